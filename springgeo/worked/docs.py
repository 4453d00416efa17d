"""What a formula's docstring says: its title, source, how that is known, units and ranges."""

from __future__ import annotations

import inspect
import re
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cache

_UNITS = r"kg mm/\(N s\^2\)|N/mm|N mm|MPa|mm|N|kg/mm\^3|kg|Hz|rad|°C|1/K"
_UNIT = re.compile(rf"(?:, |^|: )({_UNITS})(?=[\s.,;:)]|$)")
_ITEM = re.compile(r"^(\w[\w, *]*?) : ")
_SYMBOL = re.compile(r"^\(?([A-Za-z]+(?:_\w+)*)\)?(?=,| or )")
# where the formula begins in a title
_FORMULA = re.compile(
    r", (?=\(?[A-Za-z]\w*\)? (?:=|\())|, (?=N_|L_|K |1/n|F n|n/n)|; | by 33500| by 231"
)
_GREEK = ("tau", "sigma", "rho", "kappa", "nu", "delta")


@dataclass(frozen=True)
class Argument:
    """What an argument is: its words, its unit, and between which values the formula holds.

    ``open_low``: the lower end itself is outside.
    """

    words: str
    unit: str
    low: float | None = None
    high: float | None = None
    open_low: bool = False

    def holds(self, x: float) -> bool:
        """Return whether a value is inside."""
        if self.low is not None and (x <= self.low if self.open_low else x < self.low):
            return False
        return self.high is None or x <= self.high


@dataclass(frozen=True)
class Docs:
    """A docstring taken apart."""

    title: str
    symbol: str
    unit: str
    source: str
    known: str
    remark: str = ""
    arguments: Mapping[str, Argument] = field(default_factory=dict)


@cache
def docs(function: Callable[..., object]) -> Docs:
    """Return what the docstring of a formula says.

    Raises
    ------
    ValueError
        It names no source.
    """
    text = inspect.getdoc(function) or ""
    file = inspect.getdoc(sys.modules[function.__module__]) or ""
    # what several formulas of a file take is said once, in the file's docstring
    shared = _arguments(file.partition("\nParameters\n")[2])
    taken = inspect.signature(function).parameters
    text, _, returns = text.partition("\nReturns\n")
    head, _, parameters = text.partition("\nParameters\n")
    head = " ".join(head.split())
    said = re.search(r"Source: (.*?)\. Known: ([^.]*)\.(?: (.*))?$", head)
    if said is None:
        raise ValueError(f"{function.__qualname__} names no source")
    first, _, remark = head[: said.start()].strip().partition(". ")
    own = [line.strip() for line in returns.splitlines()[2:] if line.strip()]
    result = (said.group(3) or "").removeprefix("In ") or (own[0] if own else "")
    return Docs(
        title=_FORMULA.split(re.sub(r"^Return (?:the )?", "", first))[0].rstrip("."),
        symbol=_symbol(function.__name__, first, own[0] if own else ""),
        unit="" if "N or MPa" in result else _unit(f", {result}"),
        source=said.group(1),
        known=said.group(2),
        remark=remark,
        arguments={n: a for n, a in (shared | _arguments(parameters)).items() if n in taken},
    )


def _symbol(name: str, title: str, returns: str) -> str:
    """Return what the title's formula is for, or what stands first in what is returned."""
    if said := re.search(r", (?:1/)?\(?([A-Za-z]+(?:_\w+)*)\)? = ", title):
        return said.group(1)
    found = _SYMBOL.match(returns)
    if found and (len(found.group(1)) <= 2 or "_" in found.group(1) or found.group(1) in _GREEK):
        return found.group(1)
    return "n_f" if name.startswith("n_f") else name


def _unit(text: str) -> str:
    found = _UNIT.search(text) or _UNIT.search(text.replace(" uncorrected ", ", "))
    return found.group(1) if found else ""


def _arguments(text: str) -> dict[str, Argument]:
    found: dict[str, Argument] = {}
    names: list[str] = []
    words: list[str] = []

    def close() -> None:
        said = " ".join(words).rstrip(".")
        parts = said.split("; ")
        # as many parts as names: one for each; else all of it for all of them
        each = parts if len(parts) == len(names) else [said] * len(names)
        for n, part in zip(names, each, strict=True):
            units = set(_UNIT.findall(part))
            unit = units.pop() if len(units) == 1 else ""
            alone = part.removesuffix(f", {unit}") if unit else part
            span = _range(part if len(names) > 1 else said)
            found[n] = Argument(alone, unit, *span)

    for line in text.splitlines()[1:]:
        head = _ITEM.match(line)
        if head:
            close()
            names, words = [n.strip(" *") for n in head.group(1).split(",")], []
        elif line.strip():
            words.append(line.strip())
    close()
    return found


def _range(text: str) -> tuple[float | None, float | None, bool]:
    number = r"(\d+(?:\.\d+)?)"
    if m := re.search(rf"\b{number} to {number}\b(?! \w)", text):
        return float(m.group(1)), float(m.group(2)), False
    if m := re.search(rf"\babove {number}", text):
        return float(m.group(1)), None, True
    if re.search(r"\bnot negative\b", text):
        return 0.0, None, False
    return None, None, False

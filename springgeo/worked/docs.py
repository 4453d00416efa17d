"""What a formula's docstring says: its title, source, how that is known, units and ranges."""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any

_UNITS = "N/mm|N mm|MPa|mm|N|kg/mm\\^3|kg|Hz|rad|°C|1/K"
_UNIT = re.compile(rf"(?:, |^|: )({_UNITS})(?=[\s.,;:)]|$)")
_ITEM = re.compile(r"^(\w[\w, *]*?) : ")
_SYMBOL = re.compile(r"^\(?([A-Za-z]+(?:_\w+)*)\)?(?=,)")
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
def docs(function: Callable[..., Any]) -> Docs:
    """Return what the docstring of a formula says.

    Raises
    ------
    ValueError
        It names no source.
    """
    text = inspect.getdoc(function) or ""
    head, _, rest = text.partition("\nParameters\n")
    parameters, _, returns = rest.partition("\nReturns\n")
    head = " ".join(head.split())
    said = re.search(r"Source: (.*?)\. Known: (.*?)\.?$", head)
    if said is None:
        raise ValueError(f"{function.__qualname__} names no source")
    first, _, remark = head[: said.start()].strip().partition(". ")
    title = re.sub(r"^Return (?:the )?", "", first)
    title = _FORMULA.split(title)[0]
    own = [line.strip() for line in returns.splitlines()[2:] if line.strip()]
    result = own[0] if own else ""
    unit = _unit(result)
    return Docs(
        title=title.rstrip("."),
        symbol=_symbol(function.__name__, result),
        unit=unit,
        source=said.group(1),
        known=said.group(2),
        remark=remark,
        arguments=_arguments(parameters),
    )


def _symbol(name: str, result: str) -> str:
    found = _SYMBOL.match(result)
    if found and (len(found.group(1)) <= 2 or "_" in found.group(1) or found.group(1) in _GREEK):
        return found.group(1)
    return name


def _unit(text: str) -> str:
    found = _UNIT.search(text)
    return found.group(1) if found else ""


def _arguments(text: str) -> dict[str, Argument]:
    found: dict[str, Argument] = {}
    names: list[str] = []
    words: list[str] = []

    def close() -> None:
        said = " ".join(words)
        for n in names:
            found[n] = Argument(said.rstrip("."), _unit(said), *_range(said))

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

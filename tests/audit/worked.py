"""Every step of every explained number computed again, from its formula and from its text."""

from __future__ import annotations

import json
import math
import re
from pathlib import Path
from typing import Any

from springgeo import Spring
from springgeo.explanation import explained
from springgeo.explanation.steps import ExplainedStep
from springgeo.text.shown import Shown
from tests.stability.wild import Random, pick

from .compared import Compared
from .drawn import drawn

_KNOWN: dict[str, Any] = {
    name: getattr(math, name) for name in ("sqrt", "exp", "log", "sin", "cos", "tan", "atan", "pi")
} | {"abs": abs, "min": min, "max": max, "ln": math.log, "hypot": math.hypot}
_KNOWN |= {"π": math.pi, "cbrt": math.cbrt, "log10": math.log10, "inf": math.inf}
# a unit after a number of a text, and what it is in mm, N, MPa and kg
_POUND, _LB, _KSI = 4.4482216152605, 0.45359237, 6.894757293168
UNITS = {
    "lbf/in": _POUND / 25.4,
    "lb/in^3": _LB / 25.4**3,
    "lb in/(lbf s^2)": _LB * 25.4 / _POUND,
    "lbf in": _POUND * 25.4,
    "N/mm": 1.0,
    "N mm": 1.0,
    "kg/mm^3": 1.0,
    "kg mm/(N s^2)": 1.0,
    "lbf": _POUND,
    "psi": _KSI / 1000,
    "ksi": _KSI,
    "MPa": 1.0,
    "mm": 1.0,
    "in": 25.4,
    "Hz": 1.0,
    "kg": 1.0,
    "g": 1e-3,
    "lb": _LB,
    "N": 1.0,
}
_UNIT = re.compile(
    r"(\d[\d.]*(?:e[+-]?\d+)?) ("
    + "|".join(re.escape(u) for u in sorted(UNITS, key=len, reverse=True))
    + r")(?![\w^])"
)


def examine(rng: Random, told: Compared, folder: Path) -> None:
    """Explain what one summary says, to any reader."""
    spring = Spring.from_dict(drawn(rng, coils=12))
    summary = json.loads(spring.summary().json_text(None))
    units, language = str(pick(rng, ("mm", "inch"))), str(pick(rng, ("en", "de", "fr")))
    shown = Shown(units, language)  # type: ignore[arg-type]
    for path, leaf in spring.explained_numbers().items():
        answer = explained(leaf)
        told.number("explained: value", answer.value, _at(summary, path), 1e-9, of=1e-12)
        steps = {s.number: s for s in answer.steps}
        if answer.steps:
            # a peak is followed to its place beyond the station whose formula is shown
            told.number(
                "explained: value of its first step", answer.steps[0].value, answer.value, 1e-9,
                of=1e-12,
            )  # fmt: skip
        for step in answer.steps:
            _step(told, step, steps, shown)


def _at(data: Any, path: str) -> Any:
    """Return the value at a path; keys may hold dots of their own."""
    while path:
        if isinstance(data, list):
            first, _, path = path.partition(".")
            data = data[int(first)]
            continue
        key = max((k for k in data if path == k or path.startswith(f"{k}.")), key=len)
        data, path = data[key], path[len(key) + 1 :]
    return data


def _step(told: Compared, step: ExplainedStep, steps: dict[int, Any], shown: Shown) -> None:
    for o in step.operands:
        if o.step is not None:
            told.number("explained: operand", o.value, steps[o.step].value, 1e-9, of=1e-12)
    if step.expression is None:
        return
    names = {o.name: o.value for o in step.operands}
    size = max((abs(v) for v in names.values()), default=0.0) * 1e-9
    own = eval(step.expression, {"__builtins__": {}}, _KNOWN | names)
    told.number("explained: formula", step.value, own, 1e-5, of=size)
    lines = "\n".join(_lines(step, shown))
    filled = re.findall(r"^      = (.*)$", lines, re.MULTILINE)
    head = lines.splitlines()[0]
    if len(filled) < 2:
        return
    value = _text(filled[1], shown)
    if value is None:
        told.same("explained: text that can be computed", filled[1], None)
        return
    there = _text(re.split("  ", head.partition(" = ")[2])[0], shown)
    if there is None:  # a unit that none of ours is, as a temperature's
        return
    most = max((abs(x) for x in _figures(filled[1], shown)), default=0.0)
    wide = most if re.search(r" [-+] ", filled[1]) else 0.0
    off = abs(value - there) / max(abs(there), 0.1 * wide, 1e-12)
    told.number("explained: text with figures put in", off, 0.0, 3e-4, of=1.0)
    if off > 3e-4:
        told.failed["explained: text with figures put in"][-1] += f" {head} | {filled}"


def _lines(step: ExplainedStep, shown: Shown) -> list[str]:
    from springgeo.explanation.lines import step_lines

    return list(step_lines(step, shown))


def _plain(text: str, shown: Shown) -> str:
    if shown.language != "en":
        text = re.sub(r"(?<=\d),(?=\d)", ".", text)
    text = _UNIT.sub(lambda m: f"({m[1]}*{UNITS[m[2]]!r})", text)
    return text.replace("^", "**").replace("\u2212", "-")


def _figures(text: str, shown: Shown) -> list[float]:
    plain = re.sub(r"[^\d.*e() +-]", " ", _plain(text, shown))
    return [float(a) * float(b) for a, b in re.findall(r"\(([\d.e+-]+)\*([\d.e+-]+)\)", plain)] + [
        float(x) for x in re.findall(r"(?<![\d.*(])\d[\d.]*(?:e[+-]?\d+)?(?![\d.*])", plain)
    ]


def _text(text: str, shown: Shown) -> float | None:
    try:
        return float(eval(_plain(text, shown), {"__builtins__": {}}, _KNOWN))
    except (SyntaxError, NameError, TypeError, ZeroDivisionError, ValueError):
        return None

"""What a fit tells to change is changed: ``python -m tests.stability.heeded``.

Random springs between mating parts of about their size, their pins in line. Whatever a finding
asks for with a number, taken to the digits that are told, is written into the specification, one
at a time: the finding is gone, or the specification is refused for another reason. A hook that is
made longer must come nearer to it by half at least: its bend and the loop stand otherwise then.
"""

from __future__ import annotations

import copy
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np

from springgeo import SpecError, Spring
from springgeo.findings import Finding
from springgeo.fit import FitReport, fit
from springgeo.text.shown import Shown

from .mating import specification
from .trials import main

STATES = 3
_LIMIT = re.compile(r"make it at (?:most|least) ([\d.]+) mm")
_LONGER = re.compile(r"ends\.(\w+)\.hook_length longer by at least ([\d.]+) mm")
_SEAT = {"pin": "diameter", "stud": "groove_diameter"}
_MEETS = "part-meets-hook", "part-meets-body"
_NAMED = {
    *("pin-larger-than-loop", "groove-too-narrow", "side-room"),
    *("bore-too-narrow", "rod-too-thick"),
}


def trial(seed: int, folder: Path) -> bool:
    """Heed every finding of a fit; none is told again."""
    data = specification(np.random.default_rng([5, seed]))
    for side in ("first", "second"):
        data["mating"].get(side, {}).pop("holding", None)
    data["mating"].pop("offset", None)
    for finding in _fitted(data).findings:
        text = Shown("mm").text(finding.message)
        for other, share in _heeded(data, finding, text):
            again = _again(other, finding)
            then = "" if again is None else Shown("mm").text(again.message)
            assert again is None or _depth(then) < share * _depth(text), f"{text}; then: {then}"
    return True


def _depth(text: str) -> float:
    found = re.search(r"runs ([\d.]+) mm into", text)
    return 0.0 if found is None else float(found[1])


def _fitted(data: dict[str, Any]) -> FitReport:
    return fit(Spring.from_dict(data), states=STATES)


def _again(data: dict[str, Any], before: Finding) -> Finding | None:
    """Return the finding where it is told again."""
    try:
        found = _fitted(data).findings
    except SpecError:  # there is no such spring
        return None
    return next((f for f in found if (f.code, f.field) == (before.code, before.field)), None)


def _heeded(
    data: dict[str, Any], finding: Finding, text: str
) -> Iterator[tuple[dict[str, Any], float]]:
    """Yield the specification with what is told changed, and what share may still be missing."""
    path, limit = finding.field.split("."), _LIMIT.search(text)
    if limit is not None and finding.code in _MEETS:
        part = data["mating"][path[1]]
        seat = next((k for k in _SEAT if k in part), None)
        if seat is not None:
            yield _with(data, [*path[:2], seat, _SEAT[seat]], float(limit[1])), 0.0
    elif limit is not None and finding.code in _NAMED:
        yield _with(data, path, float(limit[1])), 0.0
    if longer := _LONGER.search(text):
        side, more = longer[1], float(longer[2])
        now = getattr(Spring.from_dict(data).sections.geometry, f"hook_length_{side}")
        yield _with(data, ["ends", side, "hook_length"], now + more), 0.5


def _with(data: dict[str, Any], path: list[str], value: float) -> dict[str, Any]:
    out = copy.deepcopy(data)
    at = out
    for key in path[:-1]:
        at = at.setdefault(key, {})
    at[path[-1]] = value
    return out


if __name__ == "__main__":
    main("heeded", trial)

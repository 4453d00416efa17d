"""The cycle of a job along a load line: ranges over its highest load, with their counts."""

from __future__ import annotations

from collections.abc import Sequence

from springgeo.mechanics import life
from springgeo.sizing.job.duties import Duties
from springgeo.sizing.job.need import Line
from springgeo.specification.base import rule
from springgeo.specification.service import Range
from springgeo.text import quantity as q
from springgeo.text.shown import said

# lowest and highest load of each range over the highest load of the line, and how often
Cycle = tuple[tuple[float, float, float], ...]
# what a load or a length may be beyond the job's, as rounding
_SLACK = 1e-6


def cycle_of(service: Duties, line: Line) -> Cycle:
    """Return the ranges of a spectrum, or the one from the shortest to the longest length."""
    if not service.spectrum:
        N = life.ENDLESS if service.cycles is None else service.cycles
        return ((line.F_1 / line.F_2, 1.0, N),)
    return tuple(
        (low / line.F_2, high / line.F_2, part.count)
        for part in service.spectrum
        for low, high in [part.loads or tuple(line.load(x) for x in part.lengths or ())]
    )


def within_the_job(spectrum: Sequence[Range], lines: Sequence[Line]) -> None:
    """Raise if a range of a spectrum leaves what the job asks of the spring.

    Lengths lie between its shortest and longest, loads are not above its highest.
    """
    most, short, long = max(x.F_2 for x in lines), lines[0].L_1, lines[0].L_2
    for part in spectrum:
        if part.loads is not None and part.loads[1] > most * (1 + _SLACK):
            text = said(
                "a range up to {load} is beyond the job's highest load, {most}; ask for that load "
                "as well, or lower the range",
                load=q.force(part.loads[1]),
                most=q.force(most),
            )
            raise rule("spectrum-beyond", text, "service.spectrum")
        if part.lengths is None:
            continue
        if part.lengths[0] < short * (1 - _SLACK) or part.lengths[1] > long * (1 + _SLACK):
            text = said(
                "a range from {low} to {high} leaves the job's lengths, {short} to {long}; ask for "
                "a load at that length as well, or narrow the range",
                **q.lengths(4, low=part.lengths[0], high=part.lengths[1], short=short, long=long),
            )
            raise rule("spectrum-beyond", text, "service.spectrum")

"""A choice as it is written, read again: it must be and do what was said of it."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from springgeo import Spring
from springgeo.sizing import Job
from springgeo.sizing.answer.recheck import ROUNDING
from springgeo.sizing.answer.report import rows, specification_text
from springgeo.sizing.answer.winner import Winner
from springgeo.text.shown import Shown
from springgeo.trade.practice import practice

from .job import WORK
from .spring import margins_of

# what a load may be beside the line, and how near limits of room are kept
_OFF, _KEPT = 0.005, 1e-4
# of a natural frequency by the handbook, whose spring has coils by the load curve
_SWINGS = 0.02


def require(w: Winner, job: Job, folder: Path, points: list[tuple[float, float]]) -> None:
    """Read a choice in the units of its job and require what was asked, and what was said."""
    shown = Shown(job.units)
    text = specification_text(w, job.name, shown)
    path = folder / "choice.yaml"
    path.write_text(text, encoding="utf-8")
    own = Spring.from_file(path)
    s = own.summary()
    _loads(w, job, own, points)
    _said(w, text, shown, own)
    margins = margins_of(s, job.method)
    assert margins == pytest.approx(w.margins, rel=1e-6), "margins are others"
    for name, value in margins.items():
        least = getattr(job.least, name)
        assert value >= least * (1 - ROUNDING), f"margin {name} {value} is below {least}"
    _room(job, own)
    forcing = job.service.forcing_frequency
    if forcing is not None:
        swings = s.dynamics.natural_frequency_both_held / forcing
        assert swings >= practice("frequency_ratio") * (1 - _SWINGS), f"swings at {swings}"
    verdict = s.verdict
    assert verdict is not None
    least_of_all = min(job.least.model_dump().values())
    assert verdict.outcome != "fails" or least_of_all < 1, verdict.words


def _loads(w: Winner, job: Job, own: Spring, points: list[tuple[float, float]]) -> None:
    """Require the loads on the load curve, or on the handbook's line, of the spring as written."""
    load = (
        own.along_the_wire.book.straight_load if job.method == "handbook" else own.load_curve.load
    )
    found = [load(x) for x, _ in points]
    assert found == pytest.approx(w.loads, rel=1e-5), "loads are others"
    if job.energy is not None:
        (low, _), (high, _) = points
        off = sum(found) / 2 * (high - low) / job.energy.energy - 1
        assert abs(off) <= WORK, f"{off:.3g} of the energy off"
        return
    for value, (length, wanted), p in zip(found, points, job.load_points, strict=True):
        off = value / wanted - 1
        most = job.use_tolerance * p.tolerance + _OFF
        assert abs(off) <= most, f"{off:.3g} off at {length}"


def _room(job: Job, own: Spring) -> None:
    g, room = own.summary().geometry, job.envelope
    for name, value, limit in (
        ("outer_diameter", g.outer_diameter, room.outer_diameter),
        ("free_length", g.free_length, room.free_length),
        ("hook_a", g.hook_length_first, room.hook_a),
        ("hook_b", g.hook_length_second, room.hook_b),
    ):
        inside = limit is None or value <= limit * (1 + _KEPT)
        assert inside, f"{name} {value} in a room of {limit}"
    rod = room.rod_diameter
    assert rod is None or g.inner_diameter >= rod * (1 - _KEPT), f"{g.inner_diameter} on {rod}"


def _said(w: Winner, text: str, shown: Shown, own: Spring) -> None:
    """Require that the file's head and the table say what the spring has, in the units shown."""
    told = re.search(r"re-check it gives ([\d.]+) (\S+) at .* and ([\d.]+) (\S+) at", text)
    assert told, text
    assert {told[2], told[4]} == {shown.unit("force")}
    for value, load in zip((told[1], told[3]), w.loads, strict=True):
        assert float(value) == pytest.approx(shown.convert("force", load), rel=2e-4)
    head, row = rows([w], shown)
    table: dict[str, Any] = dict(zip(head, row, strict=True))
    s, g = own.summary(), own.summary().geometry
    length, force = shown.unit("length"), shown.unit("force")
    rate = (w.loads[1] - w.loads[0]) / (w.candidate.line.L_2 - w.candidate.line.L_1)
    for name, kind, value, near in (
        (f"wire {length}", "length", g.wire_diameter, 1e-3),
        ("index", "number", g.index, 1e-3),
        (f"OD {length}", "length", g.outer_diameter, 1e-3),
        ("coils", "number", g.body_coils, 2e-3),
        (f"L0 {length}", "length", g.free_length, 2e-3),
        (f"Fi {force}", "force", s.initial_tension.force, 1e-2),
        (f"rate {shown.unit('rate')}", "rate", rate, 2e-2),
        (f"mass {shown.unit('mass')}", "mass", g.mass, 5e-2),
    ):
        wanted = shown.convert(kind, value)
        off = abs(float(table[name]) - wanted)
        assert off <= near * wanted + 1e-3, f"{name} {table[name]} is {wanted}"

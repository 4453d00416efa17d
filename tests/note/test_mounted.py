"""The note on a spring that is not pulled straight where it is mounted."""

from __future__ import annotations

import re

import pytest

import springgeo as sg
from springgeo.note import note
from springgeo.note.markdown import markdown
from springgeo.note.model import FormulaLine, Formulas
from tests.mounted import FREE, aside, gate

CYCLE = {"duty": "cyclic", "cycles": 1e6}
WAY = "along the wire, as mounted"


def rows(text: str) -> list[list[str]]:
    lines = (x for x in text.splitlines() if x.startswith("|"))
    return [[c.strip() for c in x.split("|")[1:-1]] for x in lines]


def test_its_tables_have_the_working_points_and_the_cycle_as_mounted() -> None:
    made = aside({"loads": [5.0, 30.0], **CYCLE}, offset=8.0)
    s, text = made.summary(), markdown(note(made))
    points = [x for x in rows(text) if len(x) > 6 and x[2] == WAY]
    assert [float(x[0]) for x in points] == [p.load for p in s.mounted]
    for row, p in zip(points, s.mounted, strict=True):
        assert float(row[1]) == pytest.approx(p.length, abs=0.006)
        assert float(row[6]) == pytest.approx(p.margin.hook_bending or 0.0, abs=0.0051)
    assert s.fatigue is not None
    cycle = [x for x in rows(text) if len(x) == 6 and x[1] == WAY]
    factors = [p.factor for p in s.fatigue.mounted.values()]
    assert [float(x[5]) for x in cycle] == pytest.approx(factors, abs=0.0051)
    assert text.count("as it is mounted no more is held") == 1


def test_its_formulas_are_those_of_the_cycle_told_above() -> None:
    """Lengths given, the handbook's factor as mounted is shown with its own steps."""
    made = gate({"lengths": [66.0, 76.0], **CYCLE}, FREE, "extended-eye", "extended-eye")
    f = made.summary().fatigue
    assert f is not None
    factor = f.mounted_handbook["hook_bending"].factor
    assert factor is not None
    results = [float(re.match(r"[\d.]+", x.result)[0]) for x in lines(made) if x.symbol == "n_f"]  # type: ignore[index]
    assert min(results) == pytest.approx(factor, abs=0.006)
    assert f.handbook["hook_bending"].factor != pytest.approx(factor, abs=0.012)


def lines(made: sg.Spring) -> list[FormulaLine]:
    blocks = note(made).blocks
    return [x for b in blocks if isinstance(b, Formulas) for x in b.lines]

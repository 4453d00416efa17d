"""A state hangs on its load alone, however it was come by; so does its rate."""

from __future__ import annotations

import numpy as np
import pytest

from springgeo.equilibrium import newton
from springgeo.equilibrium.newton import NotSettledError, Problem
from springgeo.equilibrium.posed import Rates, Shape
from springgeo.summary.sections import Sections
from tests.equilibrium.rods import curve_of, spring


@pytest.mark.parametrize("style", ["hook-at-side", "full-twisted-loop", "plain"])
def test_the_order_of_questions_changes_nothing(style: str) -> None:
    made = spring(style, D=10.0, coils=8.0)
    loads = [4.0743, 1.9, 19.0, 6.2, 9.9]
    one, other = curve_of(made), curve_of(made)
    there = {load: one.solve(load) for load in loads}
    for load in reversed(loads):
        found = other.solve(load)
        assert found.extension == there[load].extension
        assert found.compliance == there[load].compliance
        assert np.array_equal(found.shape.p, there[load].shape.p)
    lengths = [one.free_length + x for x in (0.3, 2.0, 9.0)]
    asked = [one.load(x) for x in lengths]
    assert [other.load(x) for x in reversed(lengths)] == asked[::-1]


def test_many_on_one_way_are_the_same_states() -> None:
    """Where coils just touch, too: the slope there was 0.14 per cent off by another way."""
    curve = curve_of(spring("hook-at-side", D=10.0, coils=8.0))
    way = curve.way()
    for load in (1.936, 3.0, 3.54, 10.0, 6.2, 4.0743, 5.1436):
        beside, alone = way.at(load), curve.solve(load)
        assert beside.extension == pytest.approx(alone.extension, rel=1e-8)
        assert beside.compliance == pytest.approx(alone.compliance, rel=1e-6)


def test_sections_hang_on_none_before() -> None:
    made = spring("full-loop-at-side", D=9.0, coils=7.0)
    made = made.with_(service__loads=[6.0, 15.0])
    rising, falling = Sections(made.model), Sections(made.model)
    keys = ("points", "contact", "fatigue", "pull", "load_line", "dynamics")
    found = {key: rising[key] for key in keys}
    for key in reversed(keys):
        assert falling[key] == found[key], key


def test_a_leap_that_leads_nowhere_is_given_up_soon(monkeypatch: pytest.MonkeyPatch) -> None:
    """Half the pull that draws the wire straight, from rest: smaller leaps lead there.

    What fails takes fewer steps than what settles.
    """
    made = spring("full-loop-at-side", D=16.0, coils=60.0)
    curve, spent = curve_of(made), {True: 0, False: 0}
    step, solve, counted = Problem._step, Problem._solve, [0]

    def counting(self: Problem, *args: object) -> object:
        counted[0] += 1
        return step(self, *args)  # type: ignore[arg-type]

    def noting(self: Problem, *args: object, **others: object) -> tuple[Shape, Rates]:
        before, settled = counted[0], True
        try:
            return solve(self, *args, **others)  # type: ignore[arg-type]
        except NotSettledError:
            settled = False
            raise
        finally:
            spent[settled] += counted[0] - before

    monkeypatch.setattr(Problem, "_step", counting)
    monkeypatch.setattr(Problem, "_solve", noting)
    load = 0.5 * curve.balance.most
    spent.update({True: 0, False: 0})
    found = curve.balance.at_load(load)
    assert spent[False] < spent[True]
    assert found.extension == pytest.approx(curve.solve(load).extension, rel=1e-9)


@pytest.mark.parametrize("style", ["machine-half-loop", "hook-at-side"])
def test_coils_in_contact_take_few_steps(style: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Steps that follow the law's straight line alone are half as many more, to the same states."""
    made, step, counted = spring(style, D=9.0, coils=16.0), Problem._step, [0]

    def counting(self: Problem, *args: object) -> object:
        counted[0] += 1
        return step(self, *args)  # type: ignore[arg-type]

    def found() -> list[tuple[float, float, int]]:
        curve, answers = curve_of(made), []
        curve.solve(curve.least)
        for share in (0.5, 0.8, 1.0):
            before = counted[0]
            at = curve.solve(share * curve.initial_tension)
            answers.append((at.extension, at.compliance, counted[0] - before))
        return answers

    monkeypatch.setattr(Problem, "_step", counting)
    few = found()
    monkeypatch.setattr(newton, "_TURNS", 0)
    monkeypatch.setattr(newton, "_WIDE", 200.0)
    many = found()
    assert sum(steps for *_, steps in few) <= 0.7 * sum(steps for *_, steps in many)
    for (x, give, _), (y, other, _) in zip(few, many, strict=True):
        assert x == pytest.approx(y, rel=1e-8)
        assert give == pytest.approx(other, rel=1e-6)

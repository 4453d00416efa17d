"""Every number of the summary is explained, and every step computes again what it says.

The formulas are those that the steps print; Python itself computes them from the values put in,
independently of the functions of ``springgeo.mechanics`` that were recorded.
"""

from __future__ import annotations

import math
from functools import cache

import pytest

from springgeo.explanation import Explanation, Leaf, explained, leaves
from springgeo.explanation.quantities import Quantity, quantities
from springgeo.mechanics import life
from springgeo.summary.conventions import rate_conventions
from springgeo.summary.drawn import free_length, geometry_facts
from springgeo.summary.fatigue.endured import endured_places
from springgeo.summary.handbook import Handbook
from springgeo.worked.number import Worked, recorded
from tests.explanation.conftest import names, spring

MATH = {name: getattr(math, name) for name in ("pi", "sqrt", "exp", "log", "log10")}
MATH |= {"abs": abs, "min": min, "max": max}
# of a stress along the wire, contributions below a millionth are left out
EXACT, TAKEN_APART = 1e-9, 1e-5


@cache
def explanations(name: str) -> dict[str, Explanation]:
    return {p: explained(leaf) for p, leaf in spring(name).explained_numbers().items()}


# every sixth in the gate; pytest -m slow takes them all
@pytest.mark.parametrize(
    "name",
    [n if i % 6 == 1 else pytest.param(n, marks=pytest.mark.slow) for i, n in enumerate(names())],
)
def test_every_number_is_explained_and_computed_again(name: str) -> None:
    numbers = spring(name).explained_numbers()
    assert len(numbers) > 100
    for path, leaf in numbers.items():
        about = quantities()[type(leaf.owner).__name__][leaf.field]
        assert isinstance(leaf.value, Worked) or about.method, path
        found = explanations(name)[path]
        assert found.value == float(leaf.value)
        for step in found.steps:
            assert step.title, (path, step.symbol)
            assert step.symbol, (path, step.title)
            assert step.source or step.kind == "arithmetic", (path, step.title)
            assert step.source == "" or step.known, (path, step.title)
            _computes(path, step)


@pytest.mark.parametrize("name", names()[1:8:6])
def test_recording_changes_no_number(name: str) -> None:
    """The numbers explained are those of the summary, to the last bit."""
    assert _same_numbers(spring(name).summary(), spring(name).explained_numbers())


def _computes(path: str, step) -> None:
    if step.expression is None:
        assert step.kind in ("given", "data", "read off", "solved", "choice"), (path, step.title)
        return
    held = {o.name: o.value for o in step.operands}
    again = eval(step.expression, {"__builtins__": {}, **MATH}, held)
    tolerance = TAKEN_APART if "surface stress" in step.source else EXACT
    assert again == pytest.approx(step.value, rel=tolerance, abs=1e-12), (path, step.title)


def _same_numbers(summary, numbers) -> bool:
    data = summary.model_dump()

    def at(path: str):
        here, rest = data, path
        while rest:
            if isinstance(here, dict):
                key = next(k for k in here if rest == k or rest.startswith(f"{k}."))
                here, rest = here[key], rest[len(key) + 1 :]
            else:
                first, _, rest = rest.partition(".")
                here = here[int(first)]
        return here

    return all(at(path) == leaf.value for path, leaf in numbers.items())


@pytest.mark.parametrize("name", names()[1:8:6])
def test_chains_end_in_what_was_given_looked_up_or_measured(name: str) -> None:
    """No formula is fed with a figure from nowhere but its own defaults and life's round ones."""
    for path, found in explanations(name).items():
        by_number = {s.number: s for s in found.steps}
        for step in found.steps:
            for o in step.operands:
                bare = o.step is None
                if bare and step.kind == "formula":
                    assert o.name in ALONE, (path, step.title, o.name)
                if not bare:
                    assert by_number[o.step].value == o.value


@pytest.mark.parametrize("name", names())
def test_the_handbooks_figures_of_every_material_and_style(name: str) -> None:
    """What needs no load curve, for all of them."""
    with recorded():
        book = Handbook(spring(name).model)
        parts = (book.material, book.initial_tension, book.allowable)
        facts = (geometry_facts(book), free_length(book, None), *rate_conventions(book).values())
        found = [leaf for part in (*parts, *facts) for leaf in leaves(part).values()]
        places = endured_places(
            book.model.material, book.d, book.material.tensile_strength, peened=False
        )
        strengths = {n: life.S_r_at(10.0**5.3, place, 0) for n, place in places.items()}
    assert len(found) > 30
    for leaf in found:
        about = quantities()[type(leaf.owner).__name__][leaf.field]
        assert isinstance(leaf.value, Worked) or about.method, leaf.path
        for step in explained(leaf).steps:
            _computes(leaf.path, step)
    for place, value in strengths.items():
        if isinstance(value, Worked):
            about = Quantity("stress", place)
            for step in explained(Leaf(place, value, None, place, about)).steps:
                _computes(place, step)
        else:
            assert math.isnan(float(value)), place


# arguments with a default of the book, and lives, which stand in the table's own rows
ALONE = {"K", "ratio", "hooks", "n_inactive", "s_a", "s_m", "N", "N_1", "N_2", "N_k", "m", "g_c"}

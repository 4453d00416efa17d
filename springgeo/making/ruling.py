"""Which dimension rules, and what is left to the maker."""

from __future__ import annotations

from springgeo.results.measured import measured_points
from springgeo.specification import Spec
from springgeo.specification.making import Diameter
from springgeo.summary import Summary
from springgeo.text.shown import said, word

_FREE = {
    "wire-diameter": word("wire diameter d"),
    "mean-diameter": word("mean diameter D"),
    "coils": word("number of coils n"),
    "initial-tension": word("initial tension F0"),
    "free-length": word("free length L0"),
    "winding": word("winding of the coils"),
}


def ruling(spec: Spec) -> Diameter:
    """Return which diameter carries the tolerance; the others are for reference."""
    if spec.making.controls is not None:
        return spec.making.controls
    around = None if spec.mating is None else spec.mating.around
    if around is not None and around.bore is not None:
        return "outer"
    if around is not None and around.rod is not None:
        return "inner"
    if spec.body.outer_diameter is not None:
        return "outer"
    return "inner" if spec.body.inner_diameter is not None else "mean"


def free_parameter(spec: Spec, summary: Summary) -> tuple[str, str]:
    """Return what is left to the maker, and why: what lets the loads be held."""
    asked = spec.making.free
    if asked:
        words = _FREE[asked[0]]
        for name in asked[1:]:
            words = said("{some}, {more}", some=words, more=_FREE[name])
        return words, word("as ordered")
    count = len(measured_points(summary))
    if count > 2:
        why = said("{count} loads at lengths are required", count=count)
        return _FREE["wire-diameter"], why
    if count == 2:
        return _FREE["wire-diameter"], word("two loads at lengths are required")
    if count == 1:
        return _FREE["initial-tension"], word("one load at a length is required")
    return _FREE["coils"], word("no load is required; F0 and R for information")

"""A spring built, checked and summarised, in this order; what fails a check goes no further."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

from springgeo.checks.centreline import centreline_checks
from springgeo.checks.required import require
from springgeo.results.verdict import Check
from springgeo.spring.geometry import Geometry
from springgeo.spring.model import SpringModel
from springgeo.summary import Summary
from springgeo.summary.build import summarise
from springgeo.summary.drawn import free_length
from springgeo.summary.handbook import Handbook

if TYPE_CHECKING:
    from springgeo.solid import Faces


def checked(
    model: SpringModel,
    told: Callable[[str], object] | None = None,
    *,
    exact: bool = False,
    summary: Summary | None = None,
) -> tuple[Summary, Faces | None]:
    """Return the summary with its checks, and the checked solid's faces if it is ``exact``.

    ``told`` is told of the solid, which takes longest; ``summary`` is the one that somebody
    has of this model without a solid, and most of it is not computed again. Raises BuildError.
    """
    checks, solid, length = centreline_checks(model), None, None
    if exact:
        from springgeo.checks.solid import checked_solid

        if told is not None:
            told("building the solid")
        solid, more, length = checked_solid(model)
        checks = (*checks, *more)
    require(checks)
    if summary is None:
        return summarise(model, checks, length), solid
    return _built(summary, model, checks, length), solid


def _built(
    known: Summary, model: SpringModel, checks: Iterable[Check], length: float | None
) -> Summary:
    """Return a summary with the two sections in which a solid shows."""
    shown = {"checks": tuple(checks), "free_length": free_length(Handbook(model), length)}
    return known.model_copy(update=shown)


def checked_state(model: SpringModel, geometry: Geometry) -> SpringModel:
    """Return the model with the geometry of a state, its centreline checked; or BuildError."""
    loaded = replace(model, geometry=geometry)
    require(centreline_checks(loaded))
    return loaded

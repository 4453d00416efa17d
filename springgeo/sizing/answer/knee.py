"""From which load on the coils of springs are apart, over their initial tension."""

from __future__ import annotations

from collections.abc import Iterable

from springgeo.equilibrium.contact.parting import SOUGHT, last_parts_at
from springgeo.spring.model import SpringModel
from springgeo.summary.handbook import Handbook


def parting(trials: Iterable[SpringModel]) -> tuple[float, float]:
    """Return a and b of a + b/n: how many times the initial tension the coils of n turns part at.

    ``trials``: a short spring and a longer one. Hooks, and what a coil's place along the body
    adds, count for less the more coils there are; pulled beside the axis a long body bows, and
    parts late however long it is. Source: this project's load curves. Known: this project's.

    Raises
    ------
    SpecError
        A trial cannot be wound.
    """
    (n, ratio), (more, last) = ((model.turns, _ratio(model)) for model in trials)
    slope = (ratio - last) / (1.0 / n - 1.0 / more)
    return ratio - slope / n, slope


def _ratio(model: SpringModel) -> float:
    curve = Handbook(model).curve
    if not curve.initial_tension or not len(curve.balance.rod.pairs):
        return 1.0
    load = last_parts_at(curve)
    return SOUGHT if load is None else load / curve.initial_tension

"""Rules about initial tension: the load line asks for it, the coils must be able to hold it."""

from __future__ import annotations

import numpy as np

from springgeo.mechanics.value import Array
from springgeo.sizing.search.constraints import Block, Rule
from springgeo.trade.limits import limits
from springgeo.trade.practice import practice

# a share of the load by which the first point must lie above the initial tension
OPEN_SHARE = practice("open_share")
# of the preferred range, what the load curve may ask for above the straight line
CURVE_ROOM = practice("curve_room")
_COILS, _ = limits()["coils_usual"]


def _low(b: Block) -> Array:
    if b.job.initial_tension == "any":
        return b.made.F_i * (1.0 / b.line.F_1)
    middle = b.index.preferred.middle
    return b.made.tau_i * (1.0 / middle) - b.index.preferred.low / middle


def _high(b: Block) -> Array:
    preferred = b.index.preferred
    most = preferred.high
    if b.job.method == "along-the-wire":
        room = CURVE_ROOM + b.index.factors.above
        most = most - room * (preferred.high - preferred.low)
    return most / preferred.middle - b.made.tau_i * (1.0 / preferred.middle)


def _possible(b: Block) -> Array:
    return np.where(b.wires.tension > 0, 1.0, -b.made.F_i / b.line.F_1)


def _open(b: Block) -> Array:
    at = b.index.factors
    # of fewer coils than there may be no load curve tells
    apart = at.apart + at.knee / np.maximum(b.made.N_b, _COILS)
    return (1.0 - OPEN_SHARE) - b.made.F_i * (apart / b.line.F_1)


TENSION = (
    Rule("coils_open", "the coils are apart at the first length", "points", _open),
    Rule("tension_low", "initial tension not too low", "initial_tension", _low),
    Rule(
        "tension_high",
        "initial tension not above the preferred range",
        "initial_tension",
        _high,
        applies=lambda j: j.initial_tension == "preferred",
    ),
    Rule(
        "tension_possible",
        "the wire can be wound with initial tension",
        "choice.materials",
        _possible,
    ),
)

"""The rules of the trade: the one list that search, reasons and report read."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from springgeo.mechanics.value import Array
from springgeo.sizing.job.job import Job
from springgeo.sizing.search.constraints import Block, Limit, Rule, at_least, at_most
from springgeo.sizing.search.tension_rules import TENSION
from springgeo.trade.limits import limits
from springgeo.trade.practice import practice

FREQUENCY_RATIO = practice("frequency_ratio")
# fractions of a coil at which loops at the side are asked; how far beside one it still tells
PARTS = tuple(n / 8 for n in range(8))
PART_KEPT = 0.08
_COILS, _TURNS = limits()["coils_usual"]
_BEND = limits()["bend_radius_usual"][0]


def slacks(block: Block) -> Iterator[tuple[Rule, Array]]:
    """Yield every rule that applies to the job with its slack, broadcasting to (n, m).

    Where the end cannot be bent, and nothing else is known, every other slack is 0.
    """
    for rule in rules_of(block.job):
        slack = rule.slack(block)
        yield rule, np.nan_to_num(slack, nan=0.0) if np.isnan(slack.min()) else slack


def rules_of(job: Job) -> tuple[Rule, ...]:
    """Return the rules that apply to a job."""
    return tuple(rule for rule in RULES if rule.applies(job))


def _fatigue(job: Job) -> float | None:
    return None if job.service.duty == "static" else job.least.fatigue


def _factor(kind: str, place: int, limit: Limit) -> Rule:
    where = ("the body", "hook bending", "hook torsion")[place]
    short = ("body", "hook_bending", "hook_torsion")[place]
    if kind == "margin":
        return at_least(
            f"margin_{short}",
            f"static margin of {where}",
            f"least.{short}",
            "",
            lambda b: b.made.margins[place],
            limit,
        )
    # without published data there is no factor at all: NaN becomes 0
    return at_least(
        f"fatigue_{short}",
        f"fatigue margin of {where}",
        "least.fatigue",
        "",
        lambda b: np.nan_to_num(b.made.fatigue[place], nan=0.0, posinf=np.inf),
        limit,
    )


def _end(b: Block) -> Array:
    # ten times its limit: no other shortfall brings an end nearer that cannot be bent
    return np.where(np.isnan(b.index.K_A + b.index.a.length + b.index.b.length), -10.0, 1.0)


def _part(b: Block) -> Array:
    """Return how much nearer than asked the fraction of a coil is to the one that is kept."""
    off = b.made.N_b - np.nan_to_num(b.index.factors.part)
    return np.asarray(PART_KEPT - np.abs(off - np.round(off)))


def _cost(b: Block) -> Array:
    return np.where(np.isnan(b.wires.cost), -1.0, 1.0)


def _heat(b: Block) -> Array:
    # in hundreds of kelvin: a share of the limit means nothing on a scale with an arbitrary zero
    T = b.job.service.temperature
    return np.minimum(b.wires.heat - T, T - b.wires.cold) / 100.0


_ROOM = (
    at_most(
        "outer_diameter",
        "outside diameter within the room",
        "envelope.outer_diameter",
        " mm",
        lambda b: b.made.D + b.wires.d,
        lambda j: j.envelope.outer_diameter,
    ),
    at_least(
        "rod_diameter",
        "inside diameter clear of the rod",
        "envelope.rod_diameter",
        " mm",
        lambda b: b.made.D - b.wires.d,
        lambda j: j.envelope.rod_diameter,
    ),
    at_most(
        "hook_room_a",
        "hook of the first end within its room",
        "envelope.hook_a",
        " mm",
        lambda b: b.made.hook_a,
        lambda j: j.envelope.hook_a,
    ),
    at_most(
        "hook_room_b",
        "hook of the second end within its room",
        "envelope.hook_b",
        " mm",
        lambda b: b.made.hook_b,
        lambda j: j.envelope.hook_b,
    ),
    at_most(
        "free_length",
        "free length within the room",
        "envelope.free_length",
        " mm",
        lambda b: b.made.L_0,
        lambda j: j.envelope.free_length,
    ),
)
_FORM = (
    Rule("end_fits", "the end style can be bent at this index", "choice.ends", _end),
    at_least(
        "index_least",
        "index not below its range",
        "choice.index",
        "",
        lambda b: b.made.C,
        lambda j: j.choice.index[0],
    ),
    at_most(
        "index_most",
        "index not above its range",
        "choice.index",
        "",
        lambda b: b.made.C,
        lambda j: j.choice.index[1],
    ),
    at_least(
        "coils_least",
        "enough body coils (EN 13906-2)",
        "body coils",
        "",
        lambda b: b.made.N_b,
        lambda _j: _COILS,
    ),
    at_most(
        "coils_most",
        "not too many body coils",
        "body coils",
        "",
        lambda b: b.made.N_b,
        lambda _j: _TURNS,
    ),
    at_least(
        "bend_radius",
        "bend radius not tighter than usual",
        "choice.ends",
        " wire diameters",
        lambda b: np.minimum(b.index.a.r_2, b.index.b.r_2),
        lambda _j: _BEND,
    ),
)
_PART = Rule(
    "coil_part",
    "the fraction of a coil is the one that was asked for",
    "body coils",
    lambda b: _part(b),
    applies=lambda j: j.keeps_part,
    narrow=True,
)
_STRENGTH = (
    _factor("margin", 0, lambda j: j.least.body),
    _factor("margin", 1, lambda j: j.least.hook_bending),
    _factor("margin", 2, lambda j: j.least.hook_torsion),
    *(_factor("fatigue", place, _fatigue) for place in range(3)),
)
_SERVICE = (
    Rule("temperature", "the wire bears the temperature", "service.temperature", _heat),
    at_least(
        "frequency",
        f"natural frequency {FREQUENCY_RATIO:g} times the forcing one",
        "service.forcing_frequency",
        " Hz",
        lambda b: b.made.frequency * (1 / FREQUENCY_RATIO),
        lambda j: j.service.forcing_frequency,
    ),
    Rule(
        "cost_known",
        "the relative cost of the wire is known",
        "choice.materials",
        _cost,
        applies=lambda j: "cost" in j.objectives,
    ),
)

RULES: tuple[Rule, ...] = (*_FORM, *_ROOM, *TENSION, *_STRENGTH, *_SERVICE, _PART)

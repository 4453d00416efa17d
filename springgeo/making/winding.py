"""The coils as they are wound: arbor, turns, pitch before springback, and what heat does then."""

from __future__ import annotations

from dataclasses import dataclass

from springgeo.overload import springback
from springgeo.spring.model import SpringModel
from springgeo.summary import Summary
from springgeo.text.shown import said, word
from springgeo.trade.stress_relief import Loss, Relief, stress_relief, tension_loss


@dataclass(frozen=True)
class Wound:
    """Body coils on the arbor, if the wire flows in bending at ``flow`` MPa: mm.

    ``arbor`` is its diameter, ``mean`` that of the coils on it. The wire keeps its length, so the
    turns on the arbor are more than those of the finished body. ``pitch`` of coils wound open.
    """

    flow: float
    arbor: float
    mean: float
    coils: float
    pitch: float


@dataclass(frozen=True)
class Winding:
    """Estimates for winding, from the softest wire to the hardest; mm, N.

    ``relief`` is the usual stress relief, ``loss`` what it takes from the initial tension, and
    ``tension`` (low, high) what must be wound in to have F0 after it; None where not published.
    """

    wound: tuple[Wound, ...]
    source: str
    relief: Relief | None
    loss: Loss | None
    tension: tuple[float, float] | None


def winding(model: SpringModel, summary: Summary) -> Winding:
    """Return how the body is wound, estimated.

    Spring wire bent round an arbor flows somewhere between its elastic limit and its tensile
    strength: both are given, the least published limit and the least strength.
    """
    m, limits = summary.material, model.material.data.elastic_limits
    flows = [m.tensile_strength]
    source = word("flow at the least tensile strength")
    if limits is not None:
        flows.insert(0, limits.tension[0] * m.tensile_strength)
        source = said(
            "flow from the elastic limit ({source}, {known}) to the strength",
            source=word(limits.source),
            known=word(limits.known),
        )
    relief = stress_relief(m.id)
    loss = tension_loss() if relief is not None and relief.coil == "shrinks" else None
    force = summary.initial_tension.force
    tension = None
    if loss is not None and force > 0:
        tension = force / (1 - loss.low), force / (1 - loss.high)
    wound = tuple(_wound(summary, flow) for flow in flows)
    return Winding(wound, source, relief, loss, tension)


def _wound(summary: Summary, flow: float) -> Wound:
    g = summary.geometry
    d, mean = g.wire_diameter, g.mean_diameter
    bent = springback(d, summary.material.elastic_modulus, flow, free=mean)
    share = bent.wound / mean
    return Wound(flow, bent.arbor, bent.wound, g.body_coils / share, g.pitch * share)

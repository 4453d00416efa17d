"""Where loaded wire would lie in itself: contact that no equilibrium knows of."""

from __future__ import annotations

from springgeo.curve import body_approach, hook_approach
from springgeo.findings import Finding, warning
from springgeo.specification.body import COIL_CLEARANCE
from springgeo.spring.geometry import Geometry
from springgeo.text import quantity as q
from springgeo.text.naming import piece_words
from springgeo.text.shown import said


def lap_findings(geometry: Geometry, load: float) -> tuple[Finding, ...]:
    """Return a warning where wire under ``load`` N lies in other wire by more than drawn coils do.

    Coils of the body press on their neighbours as they do in a spring. Hooks, bends and coils held
    by a fitting are not kept from wire that they are pulled against: askew pins may do so.
    """
    if load == 0:  # the drawn wire is clear of itself
        return ()
    d = geometry.wire_diameter
    clear = (1 - COIL_CLEARANCE) * d
    near = hook_approach(geometry.path, d, clear)
    near = body_approach(geometry.path, clear if near is None else near.distance) or near
    if near is None:
        return ()
    here, there = (piece_words(label) for label in near.labels)
    text = said(
        "at {load} the wire of {here} would lie {lap} deep in that of {there}: they touch before, "
        "which is not computed, so the spring is stiffer and stressed otherwise there; bring the "
        "pins into line, leave the ends free to turn, or change the end",
        load=q.force(load, 4),
        here=here,
        there=there,
        lap=q.length(d - near.distance, 2),
    )
    return (warning("wire-in-itself", "state", text, near.distance - d),)

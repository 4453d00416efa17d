r"""Reduced end coils: the last coils wound to a falling diameter, then a loop of their size.

```
         .-.
        (   )           loop on the reduced coil: a shorter arm, so less bending in the hook
         '-'
        ======
      ==========        coils of falling diameter
    ==============
```
Radius and pitch go from the body's to the end's by a smooth step, so that the wire joins the
body and the loop without a kink. The gap between coils falls with the cube of the radius, as
their deflection under load does.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache, partial

from pydantic import create_model

from springgeo.curve import Path, Piece
from springgeo.curve.frame import rotation_z, vector
from springgeo.curve.kinds.eased_coil import EasedCoil
from springgeo.curve.kinds.helix import pitch_for_distance, turn_distance
from springgeo.ends.protocol import BodyEnd, EndParameters, EndShape, EndStyle, Range
from springgeo.ends.shared import limits
from springgeo.ends.shared.working_coils import worth
from springgeo.errors import SpecError
from springgeo.specification.quantity import Length

# what is reduced unless asked for: coils, and their last diameter over the body's
COILS, SHARE = 3.0, 0.7
# fewer coils than one cannot fall in diameter without a kink; more than ten nobody winds
FEWEST, MOST = 1.0, 10.0
# least index of the last coil
NARROWEST = 3.0


class Reduced(EndParameters):
    """What reduced coils add to the parameters of the loop they carry.

    ``coils`` of falling diameter (3), ``end_diameter`` mean diameter of the last of them (0.7 of
    the body's, moved to an index of 3 to 4.4 or above 5). The radii are those of the loop on the
    reduced coil: ``bend_radius`` r2, ``loop_radius`` r1.
    """

    coils: float | None = None
    end_diameter: Length | None = None
    bend_radius: Length | None = None
    loop_radius: Length | None = None


def coils(p: Reduced, end: BodyEnd) -> tuple[EasedCoil, BodyEnd]:
    """Return the reduced coils from P outward, and the body end that the loop is bent on."""
    count = limits.coils(p.coils, COILS, FEWEST, MOST, "reduced", "of falling diameter")
    least = NARROWEST * end.wire_diameter
    most = max(least, 2 * end.coil_radius)
    wanted = _usual(end.wire_diameter, most) if p.end_diameter is None else p.end_diameter
    last = limits.between(
        "end_diameter",
        wanted,
        least,
        most,
        "from an index of 3 to the body's own mean diameter",
        "choose a diameter within it",
    )
    radius = last / 2
    share = radius / end.coil_radius
    gap = turn_distance(end.coil_radius, end.pitch) - end.wire_diameter
    pitch = pitch_for_distance(radius, end.wire_diameter + gap * share**3)
    coil = _falling(end.coil_radius, radius, end.pitch, pitch, count)
    return coil, BodyEnd(end.wire_diameter, radius, pitch)


# whoever tries loops on the same coils measures their wire once
@lru_cache(maxsize=16)
def _falling(
    radius: float, end_radius: float, pitch: float, end_pitch: float, turns: float
) -> EasedCoil:
    return EasedCoil(
        radius=radius, end_radius=end_radius, pitch=pitch, end_pitch=end_pitch, turns=turns
    )


@lru_cache(maxsize=16)
def _worth(coil: EasedCoil, radius: float) -> float:
    return worth([coil], radius)


def _span(d: float, mean: float) -> tuple[float, float]:
    """Return the guaranteed range of the last diameter, mm: an index of 3 to 4.4, or above 5.

    Between these a loop style may change from one way of bending to another.
    """
    low, high = max(NARROWEST * d, 0.6 * mean), 0.85 * mean
    return (max(low, 5.05 * d), high) if high >= 5.1 * d else (low, min(high, 4.4 * d))


def _usual(d: float, mean: float) -> float:
    low, high = _span(d, mean)
    return min(max(SHARE * mean, low), max(low, high))


def shape(inner: EndStyle, p: Reduced, end: BodyEnd) -> EndShape:
    """Return the reduced coils with the loop of ``inner`` on the last of them."""
    coil, narrow = coils(p, end)
    given = {n: getattr(p, n) for n in ("bend_radius", "loop_radius")}
    try:
        loop = inner.shape(inner.parameters(**given), narrow)
    except SpecError as exc:  # its length is no parameter here: it follows from the radii
        known = Reduced.model_fields
        raise SpecError(
            f if f.field in known else f.model_copy(update={"field": "bend_radius"})
            for f in exc.findings
        ) from None
    turned = 2 * math.pi * coil.turns
    spin, lift = rotation_z(turned), vector(0.0, 0.0, coil.rise)
    first = Piece(coil, "reduced-coils", "coil")
    pieces = (first, *Path(loop.pieces).moved(spin, lift).pieces)
    return replace(
        loop,
        pieces=pieces,
        hook_length=loop.hook_length + coil.rise,
        azimuth=None if loop.azimuth is None else loop.azimuth + turned,
        contact_s=None if loop.contact_s is None else loop.contact_s + coil.length,
        opening=None if loop.opening is None else loop.opening + coil.rise,
        working_coils=coil.turns,
        active_coils=_worth(coil, end.coil_radius),
        active_wire=coil.length,
        hook_radius=narrow.coil_radius,
        built={"coils": coil.turns, "end_diameter": 2 * narrow.coil_radius},
    )


def ranges(inner: EndStyle, end: BodyEnd) -> Range:
    """Return what holds at both ends of the range of ``end_diameter``, mm; coils are a number."""
    d = end.wire_diameter
    low, high = _span(d, 2 * end.coil_radius)
    if low > high:
        return {}
    at = [inner.ranges(BodyEnd(d, x / 2, end.pitch)) for x in (low, high)]
    shared: dict[str, tuple[float, float]] = {"coils": (2.0, 6.0), "end_diameter": (low, high)}
    for name in Reduced.model_fields:
        if all(name in r for r in at):
            bounds = max(r[name][0] for r in at), min(r[name][1] for r in at)
            if bounds[0] <= bounds[1]:
                shared[name] = bounds
    return shared


def style(inner: EndStyle, name: str, title: str, summary: str, sketch: str) -> EndStyle:
    """Return the end style that puts the loop of ``inner`` on reduced coils."""
    title_case = "".join(word.title() for word in name.split("-"))
    parameters = create_model(title_case, __base__=Reduced, __doc__=Reduced.__doc__)
    return EndStyle(
        name=name,
        title=title,
        summary=summary,
        sketch=sketch,
        parameters=parameters,
        shape=partial(shape, inner),
        ranges=partial(ranges, inner),
    )

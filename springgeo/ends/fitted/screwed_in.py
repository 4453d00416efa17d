"""What screwed-in fittings share: coils of the body's own size, held from inside."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from springgeo.curve import Helix
from springgeo.ends.fitted.held_coils import HeldCoils, coil_count
from springgeo.ends.protocol import BodyEnd, ByUnits, EndParameters, EndShape, EndStyle, Range
from springgeo.ends.shared.guarantee import from_index
from springgeo.ends.shared.written_out import written_out
from springgeo.fittings import Part

# coils held unless asked for, and how few hold nothing or how many nobody screws in (common
# practice: three to four)
COILS, FEWEST, MOST = 3.5, 2.0, 10.0
# from the fitting to the wire, in wire diameters
PLAY = 0.02
# coils that every screwed-in end is guaranteed for
_COILS = (2.0, 6.0)


class ScrewedIn(EndParameters):
    """What every screwed-in end may be given: ``coils`` on the fitting."""

    coils: float | None = None


def style(
    shape: Callable[[Any, BodyEnd], EndShape],
    title: str,
    summary: str,
    index: float,
    ranges: Callable[[float, float], Range],
    by_units: tuple[ByUnits, ...] = (),
) -> EndStyle:
    """Return the style of the file of ``shape``: it holds a part, which cannot turn.

    ``ranges`` of d and R, mm, hold from an index on, those of the coils aside.
    """

    def guaranteed(d: float, r: float) -> Range:
        return {"coils": _COILS, **ranges(d, r)}

    guarantee = from_index(index, guaranteed)
    return written_out(
        shape, title, summary, guarantee, holds_load=False, turning="held", by_units=by_units
    )


def coils(value: float | None, end: BodyEnd) -> tuple[HeldCoils, Helix]:
    """Return the held coils of a body end and the rigid ones in their own frame."""
    held = HeldCoils.of(end)
    count = coil_count(value, COILS, FEWEST, MOST)
    return held, Helix(radius=held.coil_radius, pitch=held.pitch, turns=count)


def end_shape(
    held: HeldCoils,
    coil: Helix,
    end: BodyEnd,
    part: Part,
    above: float,
    reach: float,
    built: Mapping[str, float | str],
) -> EndShape:
    """Return the end that a fitting makes.

    ``part`` stands in the frame of the rigid coils; its contact lies ``above`` where they start,
    with ``reach`` of material beyond; mm.
    """
    return EndShape(
        pieces=held.pieces(coil),
        hook_length=held.lift + above - end.face,
        reach=reach,
        parts=(part.moved(*held.place),),
        grip_s=0.0,
        gripped_coils=held.settle.turns + coil.turns,
        built={"coils": coil.turns, **built},
    )

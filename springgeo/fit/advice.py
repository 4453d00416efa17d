"""What a fit means: findings with codes, each saying what to change."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from springgeo.findings import Finding, error, note, warning
from springgeo.fit.end import passage
from springgeo.fit.model import EndFit, Gap
from springgeo.fit.seat import EndFrame, Part, Side, seat_radius
from springgeo.specification.mating import Bore, Plate, Rod, Stud
from springgeo.trade.practice import practice

# overlaps below this share of the wire diameter are the seat itself
TOUCH = 1e-4
# a bore or rod that just touches cuts nothing, mm
ROUNDING = 1e-6
_PRACTICE = "(advice from common practice)"
_PIN_LEAST, _SIDE_ROOM = practice("pin_least"), practice("side_room")
_PIN_LOW, _PIN_HIGH = practice("pin_ratio_low"), practice("pin_ratio_high")


def end_findings(side: Side, part: Part, frame: EndFrame, fit: EndFit) -> Iterator[Finding]:
    """Yield what is to be said of one end."""
    field = f"mating.{side}.{fit.part}"
    d = frame.wire
    if isinstance(part, Plate):
        yield from _plate(field, part, frame, fit)
    else:
        yield from _round(field, part, frame, fit)
    narrow = isinstance(part, Stud) and part.groove_width < d
    if fit.hook.distance < -TOUCH * d and seat_radius(part) <= frame.inside and not narrow:
        yield error(
            "part-meets-hook",
            field,
            f"runs {-fit.hook.distance:.3g} mm into "
            f"{fit.hook.label}; {_smaller(fit)}, or the loop larger",
        )
    if fit.neighbour.distance < -TOUCH * d:
        yield error(
            "part-meets-body",
            field,
            f"runs {-fit.neighbour.distance:.3g} mm into the "
            f"{fit.neighbour.label}; {_smaller(fit)}, or ends.{side}.hook_length "
            f"longer by at least {-fit.neighbour.distance:.3g} mm",
        )
    if fit.hold == "falls off" and fit.margin is not None:
        yield warning(
            "falls-off",
            field,
            f"at free length a play of {fit.lift - fit.margin:.3g} "
            f"mm lets it reach the mouth ({fit.mouth:.3g} mm wide) after {fit.lift:.3g}"
            " mm; reduce mating.play below that, or choose a more closed end",
        )


def _smaller(fit: EndFit) -> str:
    return "make it smaller" if fit.largest is None else f"make it at most {fit.largest:.3g} mm"


def _round(field: str, part: Part, frame: EndFrame, fit: EndFit) -> Iterator[Finding]:
    d, seat = frame.wire, 2 * seat_radius(part)
    assert not isinstance(part, Plate)
    name = f"{field}.groove_diameter" if isinstance(part, Stud) else f"{field}.diameter"
    loop = 2 * frame.inside
    if seat > loop * (1 + 1e-9):
        yield error(
            "pin-larger-than-loop",
            name,
            f"{seat:.4g} mm is more than the loop's inside "
            f"diameter {loop:.4g} mm, so it cannot seat; make it at most "
            f"{min(_PIN_HIGH * loop, fit.largest or loop):.4g} mm, or the loop larger",
        )
        return
    if fit.entry == "no":
        yield error(
            "head-does-not-pass",
            f"{field}.diameter",
            f"{part.diameter:.4g} mm passes "
            f"neither the mouth ({fit.mouth:.3g} mm) nor the loop ({loop:.4g} mm); reduce "
            f"it below {loop:.4g} mm, or open the hook",
        )
    if fit.entry == "thread":
        yield note(
            "thread-endwise",
            field,
            f"the mouth of {fit.mouth:.3g} mm does not let "
            f"{seat:.4g} mm in: put the part through the loop endwise, or open the hook; "
            "never spread the loop",
        )
    least, usual = _PIN_LEAST * d, (_PIN_LOW * loop, _PIN_HIGH * loop)
    if seat < least:
        yield note(
            "pin-thin",
            name,
            f"{seat:.4g} mm is below {_PIN_LEAST:g} wire diameters ({least:.4g} mm): "
            f"high contact pressure, make it larger {_PRACTICE}",
        )
    elif math.isfinite(loop) and not usual[0] <= seat <= usual[1]:
        yield note(
            "pin-ratio",
            name,
            f"{seat:.4g} mm is outside {_PIN_LOW:g} to {_PIN_HIGH:g} of the loop's inside "
            f"diameter ({usual[0]:.4g} to {usual[1]:.4g} mm); go there as far as the hook's "
            f"depth leaves room {_PRACTICE}",
        )
    wide = (1 + 2 * _SIDE_ROOM) * d
    if isinstance(part, Stud) and part.groove_width < d:
        yield error(
            "groove-too-narrow",
            f"{field}.groove_width",
            f"{part.groove_width:.4g} mm does not take the wire of {d:.4g} mm; make it at least "
            f"{wide:.4g} mm",
        )
    elif fit.side_room < _SIDE_ROOM * d:
        length = "groove_width" if isinstance(part, Stud) else "length"
        yield note(
            "side-room",
            f"{field}.{length}",
            f"leaves {max(0.0, fit.side_room):.3g} mm on either "
            f"side of the wire, less than {_SIDE_ROOM * d:.4g} mm; make it at least {wide:.4g} "
            f"mm {_PRACTICE}",
        )


def _plate(field: str, part: Plate, frame: EndFrame, fit: EndFit) -> Iterator[Finding]:
    if part.hole_diameter < frame.wire:
        yield error(
            "hole-too-small",
            f"{field}.hole_diameter",
            f"{part.hole_diameter:.4g} mm does "
            f"not take the wire of {frame.wire:.4g} mm; make it larger",
        )
    if part.thickness >= 2 * frame.inside:
        yield error(
            "plate-too-thick",
            f"{field}.thickness",
            f"{part.thickness:.4g} mm does not "
            f"fit the loop's inside {2 * frame.inside:.4g} mm; reduce it",
        )
    if fit.entry == "no":
        yield error(
            "plate-does-not-enter",
            field,
            f"neither thickness nor web "
            f"({passage(part):.3g} mm) passes the mouth of {fit.mouth:.3g} mm; give the "
            "end an opening, or make the plate thinner",
        )


def solid_findings(gaps: Mapping[str, Gap], wire: float) -> Iterator[Finding]:
    """Yield what is to be said of further solids; ``wire`` is its diameter, mm."""
    for name, met in gaps.items():
        if met.distance < -TOUCH * wire:
            x, y, z = met.point
            yield error(
                "solid-meets-spring",
                f"solids.{name}",
                f"runs {-met.distance:.3g} mm into {met.label} near ({x:z.2f}, {y:z.2f}, {z:z.2f}) "
                f"mm; move it away or relieve it there by at least {-met.distance:.3g} mm",
            )


def around_findings(
    bore: Bore | None, bore_gap: Gap | None, rod: Rod | None, rod_gap: Gap | None
) -> Iterator[Finding]:
    """Yield what is to be said of bore and rod."""
    if bore and bore_gap and bore_gap.distance < -ROUNDING:
        yield error(
            "bore-too-narrow",
            "mating.around.bore.diameter",
            f"{bore.diameter:.4g} mm "
            f"cuts {-bore_gap.distance:.3g} mm into {bore_gap.label}; make it at least "
            f"{bore.diameter - 2 * bore_gap.distance:.4g} mm",
        )
    if rod and rod_gap and rod_gap.distance < -ROUNDING:
        cure = (
            f"at most {rod.diameter + 2 * rod_gap.distance:.4g} mm"
            if rod_gap.label == "body"
            else "shorter, so that it ends inside the body"
        )
        yield error(
            "rod-too-thick",
            "mating.around.rod.diameter",
            f"{rod.diameter:.4g} mm cuts "
            f"{-rod_gap.distance:.3g} mm into {rod_gap.label}; make it {cure}",
        )

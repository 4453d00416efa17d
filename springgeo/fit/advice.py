"""What a fit means: findings with codes, each saying what to change."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping

from springgeo.findings import Finding, error, note, warning
from springgeo.fit.end import passage
from springgeo.fit.model import EndFit, Gap
from springgeo.fit.seat import EndFrame, Mate, seat_radius
from springgeo.message import Message
from springgeo.specification.end_names import Side
from springgeo.specification.mating import Bore, Plate, Rod, Stud
from springgeo.text import quantity as q
from springgeo.text.shown import said, word
from springgeo.trade.practice import practice

# overlaps below this share of the wire diameter are the seat itself
TOUCH = 1e-4
# a bore or rod that just touches cuts nothing, mm
ROUNDING = 1e-6
_PIN_LEAST, _SIDE_ROOM = practice("pin_least"), practice("side_room")
_PIN_LOW, _PIN_HIGH = practice("pin_ratio_low"), practice("pin_ratio_high")


def end_findings(side: Side, part: Mate, frame: EndFrame, fit: EndFit) -> Iterator[Finding]:
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
            said(
                "runs {depth} into {piece}; {cure}, or the loop larger",
                **_met(fit.hook, fit),
            ),
            _room(fit.hook, part, fit),
        )
    if fit.neighbour.distance < -TOUCH * d:
        yield error(
            "part-meets-body",
            field,
            said("runs {depth} into the {piece}; {cure}", **_met(fit.neighbour, fit))
            if fit.further is None
            else said(
                "runs {depth} into the {piece}; {cure}, or {field} longer by at least {further}",
                **_met(fit.neighbour, fit),
                field=f"ends.{side}.hook_length",
                further=q.least(fit.further, 3),
            ),
            _room(fit.neighbour, part, fit),
        )
    if fit.hold == "falls off" and fit.margin is not None:
        yield warning(
            "falls-off",
            field,
            said(
                "at free length a play of {play} lets it reach the mouth ({mouth} wide) after "
                "{lift}; reduce mating.play below that, or choose a more closed end",
                **q.lengths(3, play=fit.lift_free - fit.margin, mouth=fit.mouth_free),
                lift=q.most(fit.lift_free, 3),
            ),
        )


def _room(gap: Gap, part: Mate, fit: EndFit) -> float:
    """Return what is missing, mm: of a pin how much thinner it must be, else how deep it runs."""
    return fit.largest - 2 * seat_radius(part) if fit.largest else gap.distance


def _met(gap: Gap, fit: EndFit) -> dict[str, q.Quantity | Message | str]:
    """Return what a text on overlapping wire names: how deep, which piece, what to change."""
    return {"depth": q.length(-gap.distance, 3), "piece": gap.label, "cure": _smaller(fit)}


def _smaller(fit: EndFit) -> Message:
    if not fit.largest:
        return word("make it smaller")
    return said("make it at most {largest}", largest=q.most(fit.largest))


def _round(field: str, part: Mate, frame: EndFrame, fit: EndFit) -> Iterator[Finding]:
    d, seat = frame.wire, 2 * seat_radius(part)
    assert not isinstance(part, Plate)
    name = f"{field}.groove_diameter" if isinstance(part, Stud) else f"{field}.diameter"
    loop = 2 * frame.inside
    if seat > loop * (1 + 1e-9):
        yield error(
            "pin-larger-than-loop",
            name,
            said(
                "{seat} is more than the loop's inside diameter {loop}, so it cannot seat; make it "
                "at most {largest}, or the loop larger",
                **q.lengths(4, seat=seat, loop=loop),
                largest=q.most(min(_PIN_HIGH * loop, fit.largest or loop)),
            ),
        )
        return
    if fit.entry == "no":
        yield error(
            "head-does-not-pass",
            f"{field}.diameter",
            said(
                "{diameter} passes neither the mouth ({mouth}) nor the loop ({loop}); reduce it "
                "below {loop}, or open the hook",
                **q.lengths(4, diameter=part.diameter, loop=loop),
                mouth=q.length(fit.mouth_free, 3),
            ),
        )
    if fit.entry == "thread":
        yield note(
            "thread-endwise",
            field,
            said(
                "the mouth of {mouth} does not let {seat} in: put the part through the loop "
                "endwise, or open the hook; never spread the loop",
                mouth=q.length(fit.mouth_free, 3),
                seat=q.length(seat, 4),
            ),
        )
    least, usual = _PIN_LEAST * d, (_PIN_LOW * loop, _PIN_HIGH * loop)
    if seat < least:
        yield note(
            "pin-thin",
            name,
            said(
                "{seat} is below {ratio} wire diameters ({least}): high contact pressure, make it "
                "larger (advice from common practice)",
                **q.lengths(4, seat=seat, least=least),
                ratio=q.number(_PIN_LEAST),
            ),
        )
    elif math.isfinite(loop) and not usual[0] <= seat <= usual[1]:
        yield note(
            "pin-ratio",
            name,
            said(
                "{seat} is outside {low} to {high} of the loop's inside diameter ({least} to "
                "{most}); go there as far as the hook's depth leaves room (advice from common "
                "practice)",
                **q.lengths(4, seat=seat, most=usual[1]),
                low=q.number(_PIN_LOW),
                high=q.number(_PIN_HIGH),
                least=q.length(usual[0], 4, unit=False),
            ),
        )
    wide = (1 + 2 * _SIDE_ROOM) * d
    if isinstance(part, Stud) and part.groove_width < d:
        yield error(
            "groove-too-narrow",
            f"{field}.groove_width",
            said(
                "{width} does not take the wire of {wire}; make it at least {least}",
                **q.lengths(4, width=part.groove_width, wire=d),
                least=q.least(wide),
            ),
        )
    elif fit.side_room < _SIDE_ROOM * d:
        length = "groove_width" if isinstance(part, Stud) else "length"
        yield note(
            "side-room",
            f"{field}.{length}",
            said(
                "leaves {room} on either side of the wire, less than {wanted}; make it at least "
                "{least} (advice from common practice)",
                room=q.length(max(0.0, fit.side_room), 3),
                wanted=q.length(_SIDE_ROOM * d, 4),
                least=q.least(wide),
            ),
        )


def _plate(field: str, part: Plate, frame: EndFrame, fit: EndFit) -> Iterator[Finding]:
    if part.hole_diameter < frame.wire:
        yield error(
            "hole-too-small",
            f"{field}.hole_diameter",
            said(
                "{hole} does not take the wire of {wire}; make it larger",
                **q.lengths(4, hole=part.hole_diameter, wire=frame.wire),
            ),
        )
    if part.thickness >= 2 * frame.inside:
        yield error(
            "plate-too-thick",
            f"{field}.thickness",
            said(
                "{thickness} does not fit the loop's inside {loop}; reduce it",
                **q.lengths(4, thickness=part.thickness, loop=2 * frame.inside),
            ),
        )
    if fit.entry == "no":
        yield error(
            "plate-does-not-enter",
            field,
            said(
                "neither thickness nor web ({web}) passes the mouth of {mouth}; give the end an "
                "opening, or make the plate thinner",
                **q.lengths(3, web=passage(part), mouth=fit.mouth_free),
            ),
        )


def point_words(point: tuple[float, float, float]) -> Message:
    """Return a place in the spring's frame, mm, in words."""
    x, y, z = point
    return said(
        "({x}, {y}, {z})",
        x=q.length(x, places=2, unit=False),
        y=q.length(y, places=2, unit=False),
        z=q.length(z, places=2),
    )


def solid_findings(gaps: Mapping[str, Gap], wire: float) -> Iterator[Finding]:
    """Yield what is to be said of further solids; ``wire`` is its diameter, mm."""
    for name, met in gaps.items():
        if met.distance < -TOUCH * wire:
            yield error(
                "solid-meets-spring",
                f"solids.{name}",
                said(
                    "runs {depth} into {piece} near {point}; move it away or relieve"
                    " it there by at least {depth}",
                    depth=q.length(-met.distance, 3),
                    piece=met.label,
                    point=point_words(met.point),
                ),
                met.distance,
            )


def around_findings(
    bore: Bore | None,
    bore_gap: Gap | None,
    rod: Rod | None,
    rod_gap: Gap | None,
    thin: Callable[[Rod], float],
) -> Iterator[Finding]:
    """Yield what is to be said of bore and rod; ``thin``: how thick one may be, mm."""
    if bore and bore_gap and bore_gap.distance < -ROUNDING:
        yield error(
            "bore-too-narrow",
            "mating.around.bore.diameter",
            said(
                "{diameter} cuts {depth} into {piece}; make it at least {least}",
                diameter=q.length(bore.diameter, 4),
                least=q.least(bore.diameter - 2 * bore_gap.distance),
                depth=q.length(-bore_gap.distance, 3),
                piece=bore_gap.label,
            ),
            bore_gap.distance,
        )
    if rod and rod_gap and rod_gap.distance < -ROUNDING:
        largest = thin(rod) if rod_gap.label == "body" else 0.0
        cure = (
            said("make it at most {largest}", largest=q.most(largest))
            if largest
            else word("make it shorter, so that it ends inside the body")
        )
        yield error(
            "rod-too-thick",
            "mating.around.rod.diameter",
            said(
                "{diameter} cuts {depth} into {piece}; {cure}",
                diameter=q.length(rod.diameter, 4),
                depth=q.length(-rod_gap.distance, 3),
                piece=rod_gap.label,
                cure=cure,
            ),
            rod_gap.distance,
        )

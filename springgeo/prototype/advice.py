"""What to know before printing: findings, orientation, and the caution that goes with each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from springgeo.curve import body_approach, hook_approach
from springgeo.findings import Finding, note, warning
from springgeo.message import Message
from springgeo.prototype.options import LEAST_WIDTHS, Options
from springgeo.spring.geometry import Geometry
from springgeo.text import quantity as q
from springgeo.text.naming import ENDS
from springgeo.text.shown import said

Size = tuple[float, float, float]
CAUTION = (
    "PROTOTYPE FOR SHAPE AND FIT ONLY: A PRINTED SPRING CARRIES NO LOAD. Do not pull, hang or "
    "hold anything with it; printed hooks break without warning. It is no substitute for a wire "
    "spring, not even for a trial."
)


def findings(free: Geometry, printed: Geometry, o: Options) -> Iterator[Finding]:
    """Yield what the printed geometry means for printer and fit."""
    wire = o.scale * printed.wire_diameter
    least = LEAST_WIDTHS * o.nozzle
    if wire < least:
        yield warning(
            "wire-too-thin-to-print",
            "scale",
            said(
                "the wire is {wire} as printed, less than {least_widths} nozzle widths "
                "({least}); use a scale of at least {diameter}, or a nozzle of at most "
                "{least_widths_2}",
                **q.lengths(3, wire=wire, least=least),
                least_widths_2=q.most(wire / LEAST_WIDTHS, 3),
                least_widths=q.number(LEAST_WIDTHS, 6),
                diameter=q.number(least / printed.wire_diameter, 3, bound="least"),
            ),
        )
    if not o.dummy:
        yield from _gaps(free, printed, o)
    for side, shape in (("first", printed.first), ("second", printed.second)):
        if shape.loop_radius is not None:
            inside = o.scale * (2 * shape.loop_radius - printed.wire_diameter)
            yield note(
                "loop-inside",
                f"ends.{side}",
                _loop(side, inside, o.scale),
            )


def bed_findings(plate: Size, prints: Sequence[tuple[str, Size]], o: Options) -> Iterator[Finding]:
    """Yield what does not lie on the bed: the plate, or a print by itself; mm along x, y, z."""
    if o.bed is None or share(plate, o.bed) <= 1:
        return
    bed = said("the bed of {x} x {y}", x=q.length(o.bed[0], 5, unit=False), y=q.length(o.bed[1], 5))
    large = [(name, size) for name, size in prints if share(size, o.bed) > 1]
    for name, (x, y, _) in large:
        # the gap between coils does not shrink with the scale: no more than a bound
        least = o.scale / share((x, y, 0.0), o.bed)
        yield warning(
            "print-exceeds-bed",
            "bed",
            said(
                "{name} is {x} x {y} and does not lie along {bed}, turned by a right angle or "
                "not; print it at a scale below {least}, lay it along the diagonal if that is "
                "long enough, or choose a larger bed",
                name=name,
                x=q.length(x, 4, unit=False),
                y=q.length(y, 4),
                bed=bed,
                least=q.number(least, 2, bound="most"),
            ),
        )
    if not large:
        yield warning(
            "plate-exceeds-bed",
            "bed",
            said(
                "the plate is {x} x {y}, more than {bed}; each print by itself lies on it: name "
                "fewer states, or let the slicer set them out anew",
                x=q.length(plate[0], 4, unit=False),
                y=q.length(plate[1], 4),
                bed=bed,
            ),
        )


def share(size: Size, bed: tuple[float, float]) -> float:
    """Return what part of the bed a box takes, lengthwise or turned by a right angle."""
    (x, y, _), (width, depth) = size, bed
    return min(max(x / width, y / depth), max(x / depth, y / width))


def _gaps(free: Geometry, printed: Geometry, o: Options) -> Iterator[Finding]:
    near = body_approach(printed.path)
    if printed is not free and near is not None:
        yield note(
            "coils-opened",
            "body",
            said(
                "coils stand {scale} apart so that they do not fuse: {length} inside hooks as "
                "printed, {length_2} in truth",
                scale=q.length(o.scale * (near.distance - printed.wire_diameter), 3),
                **q.lengths(5, length=o.scale * printed.length, length_2=o.scale * free.length),
            ),
        )
    if printed.parts:
        names = ", ".join(part.name for part in printed.parts)
        yield note(
            "held-coils-printed-closed",
            "ends",
            f"{names}: printed in place; the coils on it stay closed and may fuse with it",
        )
        return
    hook = hook_approach(printed.path, printed.wire_diameter)
    if hook is not None and o.scale * (hook.distance - printed.wire_diameter) < 0.9 * o.print_gap:
        yield warning(
            "hook-may-fuse",
            "ends",
            said(
                "{labels} passes {scale} from {labels_2} and may fuse there; cut it free with a"
                " thin blade, or give the end a larger opening or hook_length",
                labels=hook.labels[0],
                scale=q.length(o.scale * (hook.distance - printed.wire_diameter), 2),
                labels_2=hook.labels[1],
            ),
        )


def orientation(o: Options) -> str:
    """Return how to print it, in one or two sentences."""
    where = "It lies on the bed with its axis level and the first loop's plane level"
    if o.dummy:
        return f"{where}: supports under the hooks and in the bore, layers along the tube."
    return (
        f"{where}: the wire of both loops then runs along the layers; use tree supports under "
        "and between the coils, and remove them with care. Do not print it upright: every coil "
        "would hang in the air." + ("" if o.flat else " Flats (--flat) give it a hold on the bed.")
    )


def _loop(side: str, inside: float, scale: float) -> Message:
    if scale == 1:
        return said(
            "the loop of the {end} is {inside} wide inside as printed, true to the spring; "
            "printers make holes {low} to {high} tighter",
            end=ENDS[side],
            inside=q.length(inside, 4),
            low=q.length(0.1, unit=False),
            high=q.length(0.3),
        )
    return said(
        "the loop of the {end} is {inside} wide inside as printed: a pin of the real size does "
        "not fit scale {scale}",
        end=ENDS[side],
        inside=q.length(inside, 4),
        scale=q.number(scale, 6),
    )

"""What to know before printing: findings, orientation, and the caution that goes with each."""

from __future__ import annotations

from collections.abc import Iterator

from springgeo.curve import body_approach, hook_approach
from springgeo.findings import Finding, note, warning
from springgeo.prototype.options import LEAST_WIDTHS, Options
from springgeo.spring.geometry import Geometry
from springgeo.text.words import ENDS

CAUTION = (
    "PROTOTYPE FOR SHAPE AND FIT ONLY: A PRINTED SPRING CARRIES NO LOAD. Do not pull, hang or "
    "hold anything with it; printed hooks break without warning. It is no substitute for a wire "
    "spring, not even for a trial."
)


def findings(free: Geometry, printed: Geometry, o: Options) -> Iterator[Finding]:
    """Yield what the printed geometry means for printer and fit."""
    wire = o.scale * printed.diameter
    least = LEAST_WIDTHS * o.nozzle
    if wire < least:
        yield warning(
            "wire-too-thin-to-print",
            "scale",
            f"the wire is {wire:.3g} mm as printed, less than {LEAST_WIDTHS:g} nozzle widths "
            f"({least:.3g} mm); use a scale of at least {least / printed.diameter:.3g}, or a "
            f"nozzle of at most {wire / LEAST_WIDTHS:.3g} mm",
        )
    if not o.dummy:
        yield from _gaps(free, printed, o)
    for side, shape in (("a", printed.a), ("b", printed.b)):
        if shape.loop_radius is not None:
            inside = o.scale * (2 * shape.loop_radius - printed.diameter)
            yield note(
                "loop-inside",
                f"ends.{side}",
                f"the loop of the {ENDS[side]} is {inside:.4g} mm wide inside as printed"
                + (
                    ", true to the spring; printers make holes 0.1 to 0.3 mm tighter"
                    if o.scale == 1
                    else f": a pin of the real size does not fit scale {o.scale:g}"
                ),
            )


def _gaps(free: Geometry, printed: Geometry, o: Options) -> Iterator[Finding]:
    near = body_approach(printed.path)
    if printed is not free and near is not None:
        yield note(
            "coils-opened",
            "body",
            f"coils stand {o.scale * (near.distance - printed.diameter):.3g} mm apart so that "
            f"they do not fuse: {o.scale * printed.length:.5g} mm inside hooks as printed, "
            f"{o.scale * free.length:.5g} mm in truth",
        )
    if printed.parts:
        names = ", ".join(part.name for part in printed.parts)
        yield note(
            "held-coils-printed-closed",
            "ends",
            f"{names}: printed in place; the coils on it stay closed and may fuse with it",
        )
        return
    hook = hook_approach(printed.path, printed.diameter)
    if hook is not None and o.scale * (hook.distance - printed.diameter) < 0.9 * o.print_gap:
        yield warning(
            "hook-may-fuse",
            "ends",
            f"{hook.labels[0]} passes {o.scale * (hook.distance - printed.diameter):.2g} mm from "
            f"{hook.labels[1]} and may fuse there; cut it free with a thin blade, or give the "
            "end a larger opening or hook_length",
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

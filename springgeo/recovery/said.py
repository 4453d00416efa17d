"""What is to be told of a recovered spring: doubts, guesses, what was not seen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from springgeo.files.surface import Surface
from springgeo.findings import Finding, note, warning
from springgeo.recovery.end.recovered import RecoveredEnd
from springgeo.recovery.residual import Residual
from springgeo.recovery.shape import Shape
from springgeo.recovery.value import Value
from springgeo.specification.end_names import SIDES
from springgeo.text import quantity as q
from springgeo.text.shown import said

# share of the points that the wire explains below which something else lies about
_CLUTTER = 0.9
# of a value: an uncertainty above it is worth saying
_VAGUE = 0.05


def findings(
    shape: Shape,
    surface: Surface,
    ends: Sequence[RecoveredEnd],
    values: dict[str, Value],
    residual: Residual,
    changed: Sequence[str],
    state: str,
) -> Iterator[Finding]:
    """Yield what is to be told."""
    unit = shape.unit
    if unit.known not in ("as asked", "as the file says"):
        yield warning(
            "unit-guessed",
            "file",
            f"its coordinates are taken to be in {unit.name} ({unit.known}); if they are not, "
            "give --file-unit mm, cm, m or in",
        )
    if surface.left_out:
        text = f"{surface.left_out} lines hold no three finite numbers and were left out"
        yield note("lines-left-out", "file", text)
    if residual.explained < _CLUTTER:
        yield warning(
            "points-unexplained",
            "file",
            said(
                "{share} of the surface is not the wire's: another body, or a piece of wire not "
                "recognised; see the picture",
                share=q.percent(100 * (1 - residual.explained), 2),
            ),
        )
    for side, end in zip(SIDES, ends, strict=True):
        yield from _of_end(f"ends.{side}", end, shape.body.tube.wire_radius)
        if side in changed:
            text = "as found it cannot be built: moved to the nearest that can, or left plain"
            yield warning("end-changed", f"ends.{side}", text)
    if state == "open":
        yield note(
            "open-or-stretched",
            "body.pitch",
            said(
                "the coils stand {gap} apart: wound open, or held stretched. The shape alone "
                "cannot tell; readings of load at length can",
                gap=q.length(values["gap"].value, 3),
            ),
        )
    yield note(
        "material-unknown",
        "wire.material",
        "a shape does not tell its material, rate or initial tension; the usual was taken. Give "
        "readings of load at length with --readings",
    )


def _of_end(field: str, end: RecoveredEnd, wire: float) -> Iterator[Finding]:
    if not end.known:
        yield warning(
            "end-unknown",
            field,
            "this end is like no style known here, or broken: its raw centreline was kept "
            "(style traced); look at it before anything is made of it",
        )
        return
    if end.equal:
        names = ", ".join(end.equal)
        text = f"the points agree as well with: {names}"
        yield note("style-equal", f"{field}.style", text)
    if end.missing > 4 * wire:
        yield warning(
            "wire-ends-early",
            field,
            said(
                "its points end {length} or more before the wire of this style does: broken off "
                "there, or not seen; beyond, the style was believed. Look at the part",
                length=q.length(end.missing, 2),
            ),
        )
    elif end.broken:
        names = ", ".join(end.broken)
        text = (
            "its proportions are unusual for this style; up to where it ends it may as well be "
            f"{names}, broken off. Look at the cut end"
        )
        yield warning("may-be-broken", field, text)
    elif end.wide:
        text = (
            "it lies further open than this style is made: broken off, or bent open. Look at the "
            "cut end"
        )
        yield warning("may-be-broken", field, text)
    elif end.unseen > 4 * wire:
        yield note(
            "wire-unseen",
            field,
            said(
                "{length} of its wire has no points; there the style was believed",
                length=q.length(end.unseen, 2),
            ),
        )
    for name, value in end.values.items():
        if value.uncertainty > _VAGUE * abs(value.value):
            yield note(
                "value-vague",
                f"{field}.{name}",
                said(
                    "known to {u} only",
                    u=q.length(value.uncertainty, 2),
                ),
            )

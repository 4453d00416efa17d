"""The notes of a sheet: what rules, where tolerances come from, cautions."""

from __future__ import annotations

from collections.abc import Iterator

from springgeo.drawing.overload_note import overload_note
from springgeo.drawing.rows.row import Sheet
from springgeo.making.ruling import free_parameter
from springgeo.text.shown import said, word
from springgeo.trade.dimension_tolerance import (
    angle_allowance,
    diameter_allowance,
    length_allowance,
    tables,
)
from springgeo.trade.held import sources

# what a failing spring's sheet is marked with
MARK = word("does not hold its load: not for making")


def fails(of: Sheet) -> bool:
    """Return whether the spring does not hold its highest load."""
    return of.summary.verdict is not None and of.summary.verdict.outcome == "fails"


def notes(of: Sheet, left_out: int = 0) -> list[str]:
    """Return the notes; ``left_out`` is how many coils a broken view does not show."""
    what, why = free_parameter(of.model.spec, of.summary)
    shown = word("Shown without load.")
    if left_out:
        shown = said(
            "Shown without load. The body is drawn broken, {n} coils left out; dimensions are "
            "true.",
            n=left_out,
        )
    return [
        shown,
        said("Free for the maker: {what}, within its trade tolerance ({why}).", what=what, why=why),
        word("Values in round brackets are for reference."),
        *_mounted(of),
        *_tolerances(of),
        *_ends(of),
        *overload_note(of.summary),
        word(
            "Guides design; does not replace the standards, the spring maker or a licensed "
            "engineer. Hooks break: provide a travel stop and secondary retention; wear eye "
            "protection. Never the only support of overhead or personnel loads."
        ),
    ]


def _mounted(of: Sheet) -> Iterator[str]:
    if of.summary.pull.mounted is not None:
        yield word(
            "F, L and R are of the straight pull, by which the spring is made and tested; where it "
            "is mounted it is not pulled straight."
        )


def _tolerances(of: Sheet) -> Iterator[str]:
    g, s = of.summary.geometry, of.summary
    diameter = diameter_allowance(g.mean_diameter, g.index, of.trade)
    if diameter is None:
        yield word("Coil diameter: outside the table of tolerances; agree with the maker.")
    else:
        yield said("± coil diameter: {source}.", source=word(diameter.source))
    if not of.loads_rule:
        free = length_allowance(g.free_length, g.index, of.trade)
        if free is None:
            yield word("L0: outside the table of tolerances; agree with the maker.")
        else:
            yield said("± L0: {source}.", source=word(free.source))
    for source in sorted({p.tolerance_source for p in s.load_line.along_the_wire[2:]}):
        yield said("± F: {source}.", source=word(source))
    source, known = sources()["initial_tension"]
    if s.initial_tension.force > 0:
        yield said("± F0: {known}; {source}.", source=word(source), known=word(known))
    general = tables()["general"]
    yield said(
        "Sizes without a tolerance, and ± LH: {source} ({known}). Radii are the tool's.",
        source=word(general["source"]),
        known=word(general["known"]),
    )
    if g.loop_angle is not None:
        angle = angle_allowance(g.body_coils)
        if angle is None:
            yield word("Angle between loops: random in US trade beyond 16 coils; agree on it.")
        else:
            yield said(
                "Angle between loops: ±{value}° in US trade; agree on what is needed.",
                value=f"{angle.value:g}",
            )


def _ends(of: Sheet) -> Iterator[str]:
    if any(end.style.holds_load for end in (of.model.first, of.model.second)):
        yield said(
            "LH: from the body's end face to the inside of the hook. m: the narrowest passage "
            "past the wire's cut end; ± m: {source}. b: in the plane of the loop. No tool marks "
            "on the hooks.",
            source=word(tables()["mouth"]["source"]),
        )
    if of.model.geometry.facing is not None:
        yield word(
            "Second opens from first: from the side on which the first end's wire is cut to that "
            "of the second, counter-clockwise seen from the second end toward the first."
        )
    if of.summary.parts:
        yield word(
            "LH of a fitted end: from the active body to where its part is loaded. The load at "
            "which it pulls out is not computed: prove it by test. Threads are not drawn."
        )

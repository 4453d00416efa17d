"""The page's ends: each as it is, with its measures marked."""

from __future__ import annotations

from springgeo.computed import ComputedSpring
from springgeo.ends import registry
from springgeo.errors import SpecError
from springgeo.plots.end_drawing import own_end_drawing
from springgeo.report.html import Markup, render
from springgeo.report.value import Values
from springgeo.specification.end_names import SIDES, Side


def ends_part(spring: ComputedSpring, v: Values) -> Markup:
    """Return a picture of each end, of one where both are alike."""
    ends = spring.spec.ends
    sides: tuple[Side, ...] = SIDES[:1] if ends.first == ends.second else SIDES
    return render("ends", figures=[x for side in sides if (x := _figure(spring, side, v))])


def _figure(spring: ComputedSpring, side: Side, v: Values) -> tuple[str, Markup] | None:
    """Return heading and drawing; None of an end that cannot stand on a body by itself."""
    ends = spring.spec.ends
    title = v.text(registry.get(getattr(ends, side).style).title)
    try:
        drawing = own_end_drawing(spring, side, v.shown)
    except SpecError:
        return None
    if ends.first == ends.second:
        heading = v.say("Both ends: {style}", style=title)
    elif side == "first":
        heading = v.say("First end: {style}", style=title)
    else:
        heading = v.say("Second end: {style}", style=title)
    return heading, Markup(drawing)

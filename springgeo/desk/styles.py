"""End styles to choose from: each as a picture, with what it is to this spring."""

from __future__ import annotations

import numpy as np

from springgeo import colours
from springgeo.computed import ComputedSpring
from springgeo.curve.frame import Array
from springgeo.ends import registry
from springgeo.errors import SpringgeoError
from springgeo.picture import spring_svg
from springgeo.specification.change import changed
from springgeo.statics.regions import REGIONS
from springgeo.summary.wire import PLACES, SEARCHED
from springgeo.text.shown import Shown

# coils of the body in the picture: enough to show what the end is bent from
_COILS = 3.0


def offered() -> list[str]:
    """Return the names of the styles to choose from."""
    return sorted(s.name for s in registry.styles().values() if s.offered)


def style_card(
    spring: ComputedSpring, side: str, name: str, load: float, shown: Shown
) -> dict[str, object]:
    """Return one style at one end of a spring, in the style's own proportions.

    ``hook_length``, mm; ``share``: the greatest stress of that end by its allowable under a
    ``load``, N, of the shape as drawn; ``picture``, SVG; or ``problem``.
    """
    style = registry.get(name)
    title = shown.text(style.title)
    card: dict[str, object] = {"style": name, "title": title}
    try:
        other = _with(spring, {f"ends.{side}.style": name})
        card |= _measured(other, side, load)
        card["picture"] = _picture(other, side, title)
    except SpringgeoError as exc:
        card["problem"] = str(exc)
    return card


def _measured(spring: ComputedSpring, side: str, load: float) -> dict[str, object]:
    end = getattr(spring.model.geometry, side)
    bent = spring.model.first if side == "first" else spring.model.second
    return {
        "hook_length": float(end.hook_length),
        "free_length": spring.free_length,
        "share": load * _per_newton(spring, side) if bent.style.holds_load else None,
    }


def _per_newton(spring: ComputedSpring, side: str) -> float:
    """Return the greatest share of the allowable in one end's hook, 1/N."""
    unit, allowable = spring.along_the_wire.unit, spring.along_the_wire.book.allowable
    middle = (unit.s[0] + unit.s[-1]) / 2
    half = unit.s < middle if side == "first" else unit.s >= middle
    shares = [0.0]
    for region, (name, kind) in PLACES.items():
        ours = half & np.isin(unit.region, [REGIONS.index(r) for r in SEARCHED[region]])
        if region != "body" and ours.any():
            shares.append(float(getattr(unit.stress, kind)[ours].max() / getattr(allowable, name)))
    return max(shares)


def _with(spring: ComputedSpring, values: dict[str, object]) -> ComputedSpring:
    return ComputedSpring(changed(spring.spec, values))


def _picture(spring: ComputedSpring, side: str, title: str) -> str:
    body = spring.spec.body
    short = _with(
        spring, {"body.coils": min(_COILS, body.coils), "ends.angle": None, "ends.facing": None}
    )
    g = short.model.geometry
    length = g.path.length
    first = getattr(g, side).hook_length

    def paint(s: Array) -> list[str]:
        near = s if side == "first" else length - s
        inside = near < 2.6 * first + 3 * g.wire_diameter
        return [colours.SERIES[0] if x else colours.INKS["soft"].dark for x in inside]

    return spring_svg(g.path, g.wire_diameter, parts=g.parts, width=200, title=title, paint=paint)

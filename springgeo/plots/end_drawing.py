"""An end style with its measures marked: r1, r2, LH, m, the contact, the handbooks' points A and B.

Drawn from the centreline on a short body; A and B stand where the stress along the wire is
greatest.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import NamedTuple

import numpy as np

from springgeo.chart.element import Value, element, escaped
from springgeo.colours import INKS, WIRE
from springgeo.computed import ComputedSpring
from springgeo.curve.frame import Array
from springgeo.errors import SpecError
from springgeo.picture.parts import View
from springgeo.picture.svg import spring_svg
from springgeo.specification.change import changed
from springgeo.specification.end_names import Side
from springgeo.specification.load import spec_of
from springgeo.statics.regions import Peak
from springgeo.summary.wire import deciding
from springgeo.text.json_value import Json
from springgeo.text.naming import piece_words
from springgeo.text.shown import Shown

# the body an end is drawn on, if none is given: mm
_WIRE_DIAMETER, _INDEX, _COILS = 2.0, 7.0, 2.75
# pixels: of a document, and of a picture on a page
_WIDE, _NARROW = 720, 480
_LETTER = 15.0
_LINE = {"stroke": WIRE.edge, "stroke_width": "1.1", "fill": "none"}
_GROUND = INKS["sheet"].light


def end_drawing(
    style: str, parameters: Mapping[str, object] | None = None, shown: Shown | None = None
) -> str:
    """Return an SVG document of an end style with its measures marked.

    Parameters
    ----------
    style : str
    parameters : mapping, optional
        Of the style, as in a specification.
    shown : Shown, optional
        The reader's units and language.

    Raises
    ------
    SpecError
        No such style, or parameters that it cannot be made with.
    """
    return _Drawing(drawn_on(style, parameters), shown or Shown(typeset=True)).svg()


def own_end_drawing(spring: ComputedSpring, side: Side, shown: Shown) -> str:
    """Return an SVG document of one end of a spring, as it is, with its measures marked."""
    return _Drawing(_shortened(spring, side), shown).svg(_NARROW)


def _shortened(spring: ComputedSpring, side: Side) -> ComputedSpring:
    """Return the spring with this end alone on a short body; on all of it where it needs that."""
    own = getattr(spring.spec.ends, side).model_dump(exclude_none=True)
    nothing: dict[str, Json] = {
        "ends.angle": None,
        "ends.facing": None,
        "service": {},
        "mating": None,
    }
    ends = {"ends.first": own, "ends.second": {"style": "plain"}}
    whole = spring.spec.body.coils
    try:
        short = {"body.coils": min(_COILS, whole)}
        return ComputedSpring(changed(spring.spec, nothing | ends | short))
    except SpecError:
        return ComputedSpring(changed(spring.spec, nothing | ends))


def drawn_on(style: str, parameters: Mapping[str, object] | None = None) -> ComputedSpring:
    """Return the short body with an end style that is drawn; raises SpecError as `end_drawing`."""
    return ComputedSpring(
        spec_of(
            {
                "wire": {"material": "astm-a228", "diameter": _WIRE_DIAMETER},
                "body": {"index": _INDEX, "coils": _COILS},
                "ends": {
                    "first": {"style": style, **(parameters or {})},
                    "second": {"style": "plain"},
                },
            }
        )
    )


class _Label(NamedTuple):
    """A point of the spring, and what is written beside it."""

    at: Array
    text: str
    aside: tuple[float, float]


class _Drawing:
    def __init__(self, spring: ComputedSpring, shown: Shown) -> None:
        self.spring, self.shown = spring, shown
        self.g = spring.model.geometry
        self.d = self.g.wire_diameter

    def svg(self, width: int = _WIDE) -> str:
        """Return the document."""
        style = self.spring.model.first.style
        return spring_svg(
            self.g.path,
            self.d,
            parts=self.g.parts,
            width=width,
            turn=0.0,
            title=self.shown.text(style.title),
            edge=(4.0 if self._labels or self._bears else 1.0) * self.d,
            over=self.marks,
        )

    def marks(self, view: View) -> str:
        """Return all measures, over the picture."""
        return element(
            "g",
            *self._lengths(view),
            *(self._leader(view, label) for label in self._labels),
            *self._contact(view),
            font_family="Georgia, serif",
            font_size=f"{_LETTER:g}",
            fill=WIRE.edge,
        )

    @property
    def _bears(self) -> bool:
        """Whether the end is pulled at a known place: its loop, or what it holds."""
        return self.g.first.contact_s is not None or bool(self.g.parts)

    @cached_property
    def _labels(self) -> list[_Label]:
        g, found = self.g.first, []
        for role, radius, name in (
            ("loop", g.loop_radius, "r1"),
            ("bend", g.bend_radius, "r2"),
        ):
            spans = [(s, p.segment.length) for p, s in self.g.path if p.role == role]
            if radius is not None and spans:
                # the piece of this end that is longest
                s, long = max((x for x in spans if x[0] < self._half), key=lambda x: x[1])
                text = f"{name} = {self._length(radius)}"
                found.append(
                    self._outward(s, long, text) if role == "loop" else self._under(s, long, text)
                )
        held = [(s, p.label) for p, s in self.g.path if p.role == "gripped" and s < self._half]
        if g.parts and held:
            s, label = held[0]
            words = self.shown.text(piece_words(label.partition(".")[2].replace("-", " ")))
            found.append(_Label(self._highest(s), words, (-0.5, -1.2)))
        for region, name in (("A", "A"), ("B", "B")):
            peak = self._peak(region)
            if peak is not None:
                at = self.g.path.point(np.array([peak.s]))[0]
                aside = (-1.0, -0.9) if name == "A" else (-0.5, 1.3 if at[0] > 0 else -1.3)
                found.append(_Label(at, name, aside))
        return found

    def _under(self, start: float, long: float, text: str) -> _Label:
        """Return a label of a piece's middle: away from the axis, under the coil."""
        at = self.g.path.point(np.array([start + long / 2]))[0]
        return _Label(at, text, (1.2, 2.3 if at[0] > 0 else -2.3))

    def _outward(self, start: float, long: float, text: str) -> _Label:
        """Return a label of a loop, outside of it and well off where it is pulled."""
        points = self.g.path.point(start + np.linspace(0.1, 0.9, 17) * long)
        out = (points - points.mean(axis=0))[:, [2, 0]]
        out /= np.linalg.norm(out, axis=1)[:, None]
        pulled = self.g.contacts[0][[2, 0]]
        off = np.linalg.norm(points[:, [2, 0]] - pulled, axis=1)
        # to the left, where nothing else stands, and neither at the pull nor under the coils
        left, up = -out.T
        best = int(np.argmax(np.minimum(off / self.d, 2.0) + left + 0.8 * np.abs(up) + 0.5 * up))
        aside = min(1.3 * out[best, 0], -0.4), 1.3 * out[best, 1]
        return _Label(points[best], text, (float(aside[0]), float(aside[1])))

    def _highest(self, start: float) -> Array:
        """Return the place of the first turn from an arc length that is drawn highest."""
        turn = 2 * np.pi * self.g.coil_radius
        points = self.g.path.point(start + np.linspace(0.2, 0.8, 25) * turn)
        highest: Array = points[np.argmin(points[:, 0])]
        return highest

    @property
    def _half(self) -> float:
        body = next(s + p.segment.length / 2 for p, s in self.g.path if p.role == "body")
        return float(body)

    def _peak(self, region: str) -> Peak | None:
        wire = self.spring.along_the_wire.unit
        found = deciding(wire, region)
        return found if found is not None and found.s < self._half else None

    def _leader(self, view: View, label: _Label) -> str:
        u, v = view.paper(label.at[None])[0]
        reach = 1.9 * self.d * view.scale
        x, y = u + label.aside[0] * reach, v + label.aside[1] * reach
        anchor = "start" if label.aside[0] > 0 else "end"
        if anchor == "end":  # whole, though the picture ends
            x = max(x, 0.5 * _LETTER * len(label.text) + 8)
        return "".join(
            (
                element("path", d=f"M{u:.1f} {v:.1f}L{x:.1f} {y:.1f}", **_LINE),
                element("circle", cx=u, cy=v, r=3.2, fill=WIRE.edge),
                self._text(x + (4 if anchor == "start" else -4), y + 5, label.text, anchor),
            )
        )

    def _lengths(self, view: View) -> list[str]:
        """Return LH above and m below, each between two lines."""
        a, face = self.g.first, self.g.first.hook_length
        high = self.g.coil_radius + 1.5 * self.d
        rows = []
        if self._bears:
            rows.append((0.0, face, high, f"LH = {self._length(a.hook_length)}"))
        if a.opening is not None and a.contact_s is not None:
            cut = face - a.opening
            rows.append((cut, face, -high, f"m = {self._length(a.opening)}"))
        return [self._between(view, *row) for row in rows]

    def _between(self, view: View, start: float, end: float, x: float, text: str) -> str:
        (u1, v), (u2, _) = view.paper(np.array([[x, 0.0, start], [x, 0.0, end]]))
        (_, middle), _ = view.paper(np.array([[0.0, 0.0, start], [0.0, 0.0, end]]))
        toward = 6 if v < middle else -6
        lines = f"M{u1:.1f} {v:.1f}H{u2:.1f}"
        for u in (u1, u2):
            lines += f"M{u:.1f} {v - toward:.1f}V{middle:.1f}"
        ticks = "".join(f"M{u - 4:.1f} {v + 4:.1f}l8 -8" for u in (u1, u2))
        up = v - 8 if v < middle else v + 19
        return element("path", d=lines + ticks, **_LINE) + self._text(
            (u1 + u2) / 2, up, text, "middle"
        )

    def _contact(self, view: View) -> list[str]:
        if not self._bears:
            return []
        at = self.g.contacts[0]
        u, v = view.paper(at[None])[0]
        arrow = f"M{u:.1f} {v:.1f}h-34m0 0l9 -5m-9 5l9 5"
        return [
            element("path", d=arrow, **(_LINE | {"stroke_width": "1.8"})),
            element("circle", cx=u, cy=v, r=4, fill="none", stroke=WIRE.edge, stroke_width=2),
            self._text(u - 38, v - 7, "F", "middle"),
        ]

    def _length(self, x: float) -> str:
        return self.shown.length(x, 3)

    @staticmethod
    def _text(x: float, y: float, text: str, anchor: str) -> str:
        halo: dict[str, Value] = {"paint_order": "stroke", "stroke": _GROUND, "stroke_width": 4}
        place = {"x": f"{x:.1f}", "y": f"{y:.1f}", "text_anchor": anchor}
        return element("text", escaped(text), **place, **halo)

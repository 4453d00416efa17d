"""Stress along the wire from contact to contact, with body, bends and loops marked."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from springgeo.chart import Axis, Chart, Item, Label, Line, Marks, Point, Stripe
from springgeo.computed import ComputedSpring
from springgeo.curve.frame import Array
from springgeo.message import Message
from springgeo.plots.draw import drawn
from springgeo.plots.points import Mark, marks
from springgeo.statics import WireStress
from springgeo.statics.regions import REGIONS
from springgeo.summary import Summary
from springgeo.text import quantity as q
from springgeo.text.naming import piece_words
from springgeo.text.shown import Value, said, together, word

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

CURVES = {
    "von_mises": ("von-mises", word("von Mises")),
    "axial": ("bending", word("bending (greatest axial)")),
    "shear": ("shear", word("shear (greatest)")),
}
# role, and entry of the legend
_BANDS = {
    "A": ("loop", word("loop")),
    "B": ("bend", word("bend")),
    "body": ("body", word("body")),
    "elsewhere": ("straight", ""),
}
# over the curves' top, so that names and labels have room
_HEADROOM = 1.25
# a curve is as fine as a drawing so many units wide can show
_WIDE, _HIGH = 400.0, 300.0


def stress_along_wire(
    spring: ComputedSpring, load: float | None = None, ax: Axes | None = None
) -> Figure:
    """Draw three stresses over arc length at a load; return the figure.

    Parameters
    ----------
    spring : Spring
    load : float, optional, N
        The specification's highest, or 1 N, if left out.
    ax : matplotlib Axes, optional

    Raises
    ------
    MissingLibraryError
        matplotlib is not installed.
    """
    s = spring.summary()
    load = max((p.load for p in s.points), default=1.0) if load is None else load
    chart = Stresses(s, spring.along_the_wire.at(load)).whole()
    title = said("{name} at {load}", name=spring.spec.name, load=q.force(load, 6))
    return drawn(chart, title, spring.shown, ax, beside=True)


@dataclass(frozen=True)
class Stresses:
    """The stresses of a spring under a load, and the diagrams of them."""

    summary: Summary
    wire: WireStress

    @cached_property
    def marks(self) -> tuple[Mark, ...]:
        """Where each hook is stressed most."""
        return marks(self.wire)

    @cached_property
    def curves(self) -> dict[str, Array]:
        """Greatest stresses round the section at each station, ``(n,) float, MPa``, by kind."""
        return {kind: getattr(self.wire.stress, kind) for kind in CURVES}

    @cached_property
    def top(self) -> float:
        """The end of the stress axis, MPa, for all diagrams."""
        book = [v for side in ("body", "hook") for v in self.handbook(side)]
        most = max(*book, *(float(v.max()) for v in self.curves.values()))
        return max(_HEADROOM * most, 1e-6)

    def handbook(self, side: str) -> list[float]:
        """Return the handbook's stresses of the body, or of the hooks, MPa."""
        # the summary holds them at its own loads alone
        here = [p for p in self.summary.points if p.load == self.wire.load]
        if not here:
            return []
        p = here[-1]
        if side == "body":
            return [p.body_shear]
        return [v for v in (p.hook_bending, p.hook_torsion) if v is not None]

    def whole(self) -> Chart:
        """Return one diagram from contact to contact, of the wire alone."""
        s = self.wire.s
        made = self.panel((float(s[0]), float(s[-1])), word("Stress along the wire"), "stress", ())
        kept = (i for i in made.items if not (isinstance(i, Line) and i.role == "allowed"))
        return replace(made, items=tuple(kept))

    def panels(self) -> list[tuple[str, Chart]]:
        """Return a diagram, with its heading, for each hook and for the body, at one scale."""
        body = self.wire.s[self.wire.region == REGIONS.index("body")]
        low, high, d = float(body[0]), float(body[-1]), self.summary.geometry.wire_diameter
        first, last = float(self.wire.s[0]), float(self.wire.s[-1])
        found = [("body", word("Body"), (low, high))]
        if any(m.side == "first" for m in self.marks):
            found.insert(0, ("first", word("Hook at the first end"), (first, low + 2 * d)))
        if any(m.side == "second" for m in self.marks):
            found.append(("second", word("Hook at the second end"), (high - 2 * d, last)))
        return [
            (
                heading,
                self.panel(
                    window,
                    said(
                        "{part}: stress along the wire at {load}",
                        part=heading,
                        load=q.force(self.wire.load),
                    ),
                    f"stress-{side}",
                    [m for m in self.marks if m.side == side],
                ),
            )
            for side, heading, window in found
        ]

    def panel(
        self, window: tuple[float, float], title: str, name: str, here: Sequence[Mark]
    ) -> Chart:
        """Return the diagram of a stretch of arc length, mm, with where a hook is stressed most."""
        s, inside = self.wire.s, self._inside(window)
        items: list[Item] = list(self._stripes(window))
        for value in self.handbook("hook" if here else "body"):
            ends = ((window[0], value), (window[1], value))
            items.append(Line(ends, "allowed", word("handbook: body, or hook bending and torsion")))
        rows = np.flatnonzero(inside)
        for kind, (role, words) in CURVES.items():
            inner = zip(s[rows], self.curves[kind][rows], strict=True)
            # stations need not lie on the diagram's edges
            first, last = ((x, float(np.interp(x, s, self.curves[kind]))) for x in window)
            items.append(Line(self._thinned([first, *inner, last], window), role, words))
        for m in here:
            at = ((m.s, m.stress),)
            items.append(
                Marks(at, "point", key=word("where hook bending and torsion are greatest"))
            )
        for m in here:
            value = m.stress
            text = together(m.words, q.stress(value, 3, unit=False))
            items.append(Label(m.s, value, text))
        return Chart(
            x=Axis(*window, word("along the wire from the first end's cut"), kind="length"),
            y=Axis(0.0, self.top, word("stress"), kind="stress"),
            title=title,
            items=tuple(items),
            told=self._told(here, self.curves["von_mises"][inside]),
            name=name,
        )

    def _inside(self, window: tuple[float, float]) -> npt.NDArray[np.bool_]:
        s = self.wire.s
        found: npt.NDArray[np.bool_] = (s >= window[0] - 1e-9) & (s <= window[1] + 1e-9)
        return found

    def _told(self, here: Sequence[Mark], von_mises: Array) -> Message:
        most = q.stress(float(von_mises.max()), 3)
        words = [said("Greatest von Mises {stress}.", stress=most)]
        for m in here:
            values: dict[str, Value] = {
                "stress": q.stress(m.stress, 3),
                "piece": piece_words(m.label),
                "s": q.length(m.s, 4),
            }
            words.append(
                said("Hook bending: {stress} in {piece}, {s} along the wire.", **values)
                if m.point == "A"
                else said("Hook torsion: shear {stress} in {piece}, {s} along the wire.", **values)
            )
        return together(*words)

    def _stripes(self, window: tuple[float, float]) -> Iterator[Stripe]:
        """Yield each unbroken stretch of one region within a window."""
        s, region = self.wire.s, self.wire.region
        cuts = np.flatnonzero(region[1:] != region[:-1]) + 1
        for i, j in zip([0, *cuts], [*cuts, len(s) - 1], strict=True):
            low, high = max(float(s[i]), window[0]), min(float(s[j]), window[1])
            if high > low:
                name, key = _BANDS[REGIONS[region[i]]]
                yield Stripe(low, high, name, name, key)

    def _thinned(self, points: Sequence[Point], window: tuple[float, float]) -> list[Point]:
        """Return the points less those that a drawing would show on the line through the rest."""
        across, up = _WIDE / (window[1] - window[0]), _HIGH / self.top
        kept = [points[0]]
        for before, p, after in zip(points, points[1:], points[2:], strict=False):
            (x0, y0), (x1, y1) = kept[-1], after
            straight = y0 + (y1 - y0) * ((p[0] - x0) / (x1 - x0) if x1 > x0 else 0.0)
            turns = (p[1] - before[1]) * (after[1] - p[1]) < 0
            if turns or up * abs(p[1] - straight) > 0.1 or across * (p[0] - x0) > 12:
                kept.append((float(p[0]), float(p[1])))
        return [*kept, (float(points[-1][0]), float(points[-1][1]))]

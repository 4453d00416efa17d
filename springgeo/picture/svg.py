"""A spring as SVG: the wire in short strands, drawn from the back to the front."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

import numpy as np

from springgeo.chart.element import coordinate, element, escaped
from springgeo.chart.element import path as way
from springgeo.colours import FITTING, WIRE, Ink, between
from springgeo.curve import Path
from springgeo.curve.frame import Array
from springgeo.fittings import Part
from springgeo.picture.parts import Shown, View, body_of

# how many wire diameters one strand spans, its points, and the greatest number of strands
_STRAND = 0.7
_FINE = 6
_MOST = 2500
# of its dark edges, in wire diameters
_RIM = 0.18


# colours, one for each arc length ``(n,) float, mm``
Paint = Callable[[Array], Sequence[str]]


def spring_svg(
    path: Path,
    wire_diameter: float,
    *,
    parts: Sequence[Part] = (),
    width: int = 640,
    turn: float = 0.35,
    title: str = "spring",
    paint: Paint | None = None,
    edge: float | None = None,
    over: Callable[[View], str] | None = None,
) -> str:
    """Return an SVG document of the spring lying on its side, first end to the left.

    Parameters
    ----------
    path : Path
    wire_diameter : float, mm
        Of the wire.
    parts : sequence of Part
        What fitted ends hold, in another tone than the wire.
    width : int
        In pixels.
    turn : float, rad
        About the spring's axis, so that both loops are seen.
    title : str
        Read out in place of the picture.
    paint : callable, optional
        Gives a colour for each arc length; without it the wire is grey, darker in front.
    edge : float, mm
        Left free around; half a wire's diameter if left out.
    over : callable, optional
        Returns what is drawn over the spring, of the view it is seen in.
    """
    wire = _points(path, wire_diameter)
    rods = [
        (_points(rod, 2 * r), r)
        for rod, r in (p.rod or (None, 0.0) for p in parts)
        if rod is not None
    ]
    tubes = [(wire, wire_diameter / 2), *rods]
    view = _framed(turn, width, tubes, parts, wire_diameter / 2 if edge is None else edge)
    rim = _RIM * wire_diameter * view.scale
    shown = list(_strands(wire, view, wire_diameter, rim, _tones(path.length, paint)))
    for rod, r in rods:
        shown += _strands(rod, view, 2 * r, rim, _fitting_tones)
    shown += [body_of(part, view) for part in parts]
    shown.sort(key=lambda piece: -piece.depth)
    return element(
        "svg",
        element("title", escaped(title)),
        element("g", *(s.svg for s in shown), fill="none", stroke_linejoin="round"),
        *(() if over is None else (over(view),)),
        xmlns="http://www.w3.org/2000/svg",
        role="img",
        width=width,
        height=f"{view.height:.0f}",
        viewBox=f"0 0 {width} {coordinate(view.height)}",
    )


def _framed(
    turn: float,
    width: int,
    tubes: Sequence[tuple[Array, float]],
    parts: Sequence[Part],
    edge: float,
) -> View:
    """Return the view that holds every tube and part with an edge to spare, mm."""
    aside = View(turn, np.zeros(2), 1.0, 0.0)
    low, high = zip(
        *((aside.flat(p).min(axis=0) - r, aside.flat(p).max(axis=0) + r) for p, r in tubes),
        *((f.min(axis=0), f.max(axis=0)) for f in (aside.flat(_corners(p)) for p in parts)),
        strict=True,
    )
    start, end = np.min(low, axis=0) - edge, np.max(high, axis=0) + edge
    scale = width / float(end[0] - start[0])
    return View(turn, start, scale, float(end[1] - start[1]) * scale)


def _corners(part: Part) -> Array:
    """Return the corners of a part's box: enough for a frame, if a little wide."""
    low, high = part.box
    return np.array(
        [[x, y, z] for x in (low[0], high[0]) for y in (low[1], high[1]) for z in (low[2], high[2])]
    )


def _points(path: Path, wire_diameter: float) -> Array:
    n = min(int(path.length / (_STRAND * wire_diameter)), _MOST) + 2
    return path.point(np.linspace(0.0, path.length, _FINE * n + 1))


# colours of strands, from where along the tube they lie (0 to 1) and how far back (0 to 1)
_Tones = Callable[[Array, Array], Sequence[str]]


def _tones(length: float, paint: Paint | None) -> _Tones:
    if paint is not None:
        return lambda along, _back: paint(along * length)
    return lambda _along, back: _mixed(WIRE.ink, back)


def _fitting_tones(_along: Array, back: Array) -> Sequence[str]:
    return _mixed(FITTING, back)


def _mixed(ink: Ink, back: Array) -> list[str]:
    return [between(ink.light, ink.dark, float(x)) for x in back]


def _strands(
    points: Array, view: View, wire_diameter: float, rim: float, tones: _Tones
) -> Iterator[Shown]:
    """Yield the strands of a tube; each lies over its own darker edge."""
    flat, depth, stroke = view.paper(points), view.depth(points), wire_diameter * view.scale
    starts = np.arange(0, len(flat) - _FINE, _FINE)
    middle = depth[starts + _FINE // 2]
    back = (middle - middle.min()) / max(float(np.ptp(middle)), 1e-12)
    fills = tones((starts + _FINE / 2) / (len(flat) - 1), back)
    for i, start in enumerate(starts):
        # a strand reaches over the end of its edge, or the edge would show as a seam
        both = ((WIRE.edge, stroke, 1), (fills[i], stroke - rim, 2))
        drawn = (
            element(
                "path",
                d=way(flat[max(start - more, 0) : start + _FINE + more + 1]),
                stroke=colour,
                stroke_width=f"{wide:.2f}",
            )
            for colour, wide, more in both
        )
        yield Shown(float(middle[i]), "".join(drawn))

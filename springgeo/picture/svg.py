"""A spring as SVG: the wire in short strands, drawn from the back to the front."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from springgeo.curve import Path
from springgeo.curve.frame import Array

# how many wire diameters one strand spans, its points, and the greatest number of strands
_STRAND = 0.7
_FINE = 6
_MOST = 2500
_EDGE, _LIGHT, _DARK = "#2b2f36", np.array([214, 219, 226]), np.array([120, 128, 140])


# colours, one for each arc length ``(n,) float, mm``
Paint = Callable[[Array], Sequence[str]]


def spring_svg(
    path: Path,
    diameter: float,
    *,
    width: int = 640,
    turn: float = 0.35,
    title: str = "spring",
    paint: Paint | None = None,
) -> str:
    """Return an SVG document of the spring lying on its side, end A to the left.

    Parameters
    ----------
    path : Path
    diameter : float, mm
        Of the wire.
    width : int
        In pixels.
    turn : float, rad
        About the spring's axis, so that both loops are seen.
    title : str
        Read out in place of the picture.
    paint : callable, optional
        Gives a colour for each arc length; without it the wire is grey, darker in front.
    """
    point = _points(path, diameter)
    across = np.array([np.cos(turn), np.sin(turn), 0.0])
    depth = point @ np.array([-np.sin(turn), np.cos(turn), 0.0])
    flat = np.column_stack([point[:, 2], point @ across])
    low = flat.min(axis=0) - diameter
    span = flat.max(axis=0) + diameter - low
    scale = width / span[0]
    flat = (flat - low) * scale
    strands = _strands(flat, depth, diameter * scale, path.length, paint)
    words = title.replace("&", "&amp;").replace("<", "&lt;")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" width="{width}" '
        f'height="{span[1] * scale:.0f}" viewBox="0 0 {width} {span[1] * scale:.1f}">'
        f"<title>{words}</title>"
        f'<g fill="none" stroke-linejoin="round">{strands}</g></svg>'
    )


def _points(path: Path, diameter: float) -> Array:
    n = min(int(path.length / (_STRAND * diameter)), _MOST) + 2
    return path.point(np.linspace(0.0, path.length, _FINE * n + 1))


def _strands(
    flat: Array, depth: Array, stroke: float, length: float, paint: Paint | None
) -> str:
    """Return the strands as paths, farthest first; each lies over its own darker edge."""
    starts = np.arange(0, len(flat) - _FINE, _FINE)
    middle = depth[starts + _FINE // 2]
    near = (middle - middle.min()) / max(float(np.ptp(middle)), 1e-12)
    shades = (_LIGHT + (_DARK - _LIGHT) * near[:, None]).astype(int)
    fills: Sequence[str] = [f"rgb({r},{g},{b})" for r, g, b in shades]
    if paint is not None:
        fills = paint((starts + _FINE / 2) / (len(flat) - 1) * length)
    parts = []
    for i in np.argsort(-middle):
        row = flat[max(starts[i] - 1, 0) : starts[i] + _FINE + 2]
        line = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in row)
        parts.append(
            f'<path d="{line}" stroke="{_EDGE}" stroke-width="{stroke:.2f}"/>'
            f'<path d="{line}" stroke="{fills[i]}" stroke-width="{0.82 * stroke:.2f}"/>'
        )
    return "".join(parts)

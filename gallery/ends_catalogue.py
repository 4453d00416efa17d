"""Every registered end style on one spring: along the pin, across it, and from above.

Writes ``ends_catalogue.png`` beside this file. Run as ``python gallery/ends_catalogue.py``.
Each hook is measured on the drawn triangles, and must be as long as its label says.
"""

from __future__ import annotations

from pathlib import Path

import matplotlib as mpl

mpl.use("Agg")
import matplotlib.pyplot as plt
import numpy as np
import numpy.typing as npt
from matplotlib.axes import Axes
from matplotlib.collections import PolyCollection

from springgeo import colours
from springgeo.curve import pitch_for_distance
from springgeo.ends import registry
from springgeo.ends.protocol import BodyEnd, EndStyle
from springgeo.mesh import part_mesh, tube_mesh
from springgeo.spring.geometry import Geometry, assemble
from springgeo.statics import WireStress, analyse
from springgeo.summary.wire import contacts_of

Array = npt.NDArray[np.float64]
# music wire, index 8, a short body: mm, MPa
DIAMETER, RADIUS, TURNS = 1.2, 4.8, 3.75
E, G = 203_400.0, 82_700.0
CHORD = 0.02
COLUMNS = 4
# the frame of one panel, mm: its width, and its lower edge below the body's end
WIDE, BELOW = 38.0, -6.5
WIRE, FITTING = colours.rgb(colours.WIRE.ink.light), colours.rgb(colours.FITTING.light)
LIGHT = np.array([-0.35, 0.45, 0.82])
# rows: to the right, up, toward the eye; x lies in the loop's plane, z out of the body
VIEWS = (
    np.array([[1.0, 0, 0], [0, 0, 1], [0, -1, 0]]),
    np.array([[0.0, 1, 0], [0, 0, 1], [1, 0, 0]]),
    np.array([[1.0, 0, 0], [0, 1, 0], [0, 0, 1]]),
)


def spring(style: EndStyle) -> Geometry:
    """Return a short body, cut plain at A, with the style by its defaults at B."""
    body = BodyEnd(DIAMETER, RADIUS, pitch_for_distance(RADIUS, 1.002 * DIAMETER))
    plain = registry.get("plain")
    shapes = [s.shape(s.parameters(), body) for s in (plain, style)]
    return assemble(body, TURNS, "right", shapes[0], shapes[1])


def stress(style: EndStyle) -> WireStress:
    """Return the stress per newton of a spring with the style at both ends."""
    body = BodyEnd(DIAMETER, RADIUS, pitch_for_distance(RADIUS, 1.002 * DIAMETER))
    shape = style.shape(style.parameters(), body)
    g = assemble(body, 12.0, "right", shape, shape)
    return analyse(g.path, DIAMETER, contacts_of(g), E, G)


def turned(g: Geometry, triangles: Array) -> Array:
    """Return the triangles with the loop's plane turned to x, z and the body's end at z = 0."""
    angle = -(2 * np.pi * g.turns + (g.second.azimuth or 0.0))
    c, s = np.cos(angle), np.sin(angle)
    spun = triangles @ np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]]).T
    return spun - [0.0, 0.0, g.height - g.second.hook_length]


def draw(axes: Axes, triangles: Array, paint: Array, view: Array, at: float) -> float:
    """Draw the triangles from one side, beginning at x = ``at`` mm; return where it ends.

    ``paint`` ``(n, 3)`` is the colour of each.
    """
    seen = triangles @ view.T
    normal = np.cross(seen[:, 1] - seen[:, 0], seen[:, 2] - seen[:, 0])
    normal /= np.linalg.norm(normal, axis=1, keepdims=True)
    front = normal[:, 2] > 0
    seen, normal, paint = seen[front], normal[front], paint[front]
    order = np.argsort(seen[:, :, 2].mean(axis=1))
    shade = np.clip(0.30 + 0.62 * np.clip(normal @ LIGHT, 0, 1), 0, 1)
    shine = np.clip(normal @ LIGHT, 0, 1) ** 30 * 0.25
    colours = np.clip(shade[:, None] * paint + shine[:, None], 0, 1)[order]
    shift = at - seen[:, :, 0].min()
    flat = seen[order][:, :, :2] + [shift, 0.0]
    axes.add_collection(
        PolyCollection(list(flat), facecolors=colours, edgecolors=colours, linewidths=0.25)
    )
    return float(flat[:, :, 0].max())


def panel(axes: Axes, style: EndStyle, above: float) -> None:
    """Draw one style from three sides with its numbers, in a frame up to ``above`` mm."""
    g = spring(style)
    wire = tube_mesh(g.path, DIAMETER / 2, CHORD).triangles
    parts = [part_mesh(part, CHORD).triangles for part in g.parts]
    triangles = turned(g, np.concatenate([wire, *parts]))
    paint = np.where(np.arange(len(triangles))[:, None] < len(wire), WIRE, FITTING)
    if g.second.contact_s is not None or parts:
        # the promise of the picture: what is drawn is as long as the label says
        measured = triangles[:, :, 2].max() - g.overhang(g.second)
        assert abs(measured - g.second.hook_length) < 2 * CHORD, style.name
    at = 0.0
    for view in VIEWS:
        at = draw(axes, triangles, paint, view, at) + 2.5
    peaks = stress(style).peaks
    lines = [f"hook {g.second.hook_length:.2f}"]
    lines += [f"with a {part.name.partition('.')[2]}" for part in g.parts]
    lines += [
        f"{name} {value:.2f}"
        for name, value in (("r1", g.second.loop_radius), ("r2", g.second.bend_radius))
        if value
    ]
    lines += [
        f"{region} {getattr(peaks[region], kind).value:.1f}"  # type: ignore[index]
        for region, kind in (("A", "axial"), ("B", "shear"), ("body", "shear"))
        if region in peaks and (region != "body" or parts)
    ]
    axes.set_title(f"{style.title}\n" + "   ".join(lines), fontsize=8)
    axes.set_xlim(-1, WIDE)
    axes.set_ylim(BELOW, above)
    axes.set_aspect("equal")
    axes.axis("off")


def main() -> None:
    # short ends first, so that the ends of one row are about as tall
    made = {style.name: spring(style) for style in registry.styles().values()}
    length = {
        name: g.second.hook_length + max(g.overhang(g.second), 0.0) for name, g in made.items()
    }
    styles = sorted(registry.styles().values(), key=lambda s: length[s.name])
    rows = [styles[i : i + COLUMNS] for i in range(0, len(styles), COLUMNS)]
    tops = [max(6.0, *(length[s.name] + DIAMETER for s in row)) for row in rows]
    heights = [top - BELOW + 5.0 for top in tops]
    figure, grid = plt.subplots(
        len(rows),
        COLUMNS,
        figsize=(4.4 * COLUMNS, 4.4 * sum(heights) / WIDE + 0.6),
        height_ratios=heights,
    )
    for axes in grid.ravel():
        axes.axis("off")
    for line, row, top in zip(grid, rows, tops, strict=True):
        for axes, style in zip(line, row, strict=False):
            panel(axes, style, top)
    figure.suptitle(
        f"Ends of a spring of {DIAMETER:g} mm wire, mean diameter {2 * RADIUS:g} mm: along the "
        "pin, across it, from above. Lengths mm; peak stress MPa per newton: A axial, B shear.",
        fontsize=11,
    )
    figure.tight_layout(rect=(0, 0, 1, 0.975))
    figure.savefig(Path(__file__).with_suffix(".png"), dpi=100, metadata={"Software": None})


if __name__ == "__main__":
    main()

"""Load over length inside hooks: the offset of the initial tension, both rates, the loads."""

from __future__ import annotations

from typing import Any

from springgeo.api import Spring
from springgeo.plots.axes import BENDING, SHEAR, axes_for, finished


def load_length(spring: Spring, ax: Any | None = None) -> Any:
    """Draw the load line with its working points and their tolerance; return the axes.

    Parameters
    ----------
    spring : Spring
    ax : matplotlib Axes, optional
        Where to draw; a new figure if left out.

    Raises
    ------
    MissingLibraryError
        matplotlib is not installed.
    """
    s, ax = spring.summary(), axes_for(ax)
    for name, points, rate, colour, dash in (
        ("along the wire", s.load_line.along_the_wire, s.along_the_wire.rate, SHEAR, "-"),
        ("handbook", s.load_line.handbook, s.rate, BENDING, "--"),
    ):
        line = sorted({(p.load, p.length) for p in points})
        if len(points) == 2:  # no working point: on to twice the initial tension, or a newton
            more = max(s.initial_tension.force, 1.0)
            line.append((line[-1][0] + more, line[-1][1] + more / rate))
        ax.plot(
            [x for _, x in line],
            [y for y, _ in line],
            dash,
            color=colour,
            lw=2,
            label=f"{name}, {rate:.4g} N/mm",
        )
    if s.points:
        shown = s.load_line.along_the_wire[2:]
        ax.errorbar(
            [p.length for p in shown],
            [p.load for p in shown],
            [p.load * p.tolerance_percent / 100 for p in shown],
            fmt="o",
            color=SHEAR,
            capsize=4,
            label="loads, with their tolerance",
        )
    ax.set_ylim(bottom=0)
    return finished(ax, spring.spec.name, "length inside hooks, mm", "load, N")

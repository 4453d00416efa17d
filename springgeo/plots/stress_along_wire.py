"""Stress along the wire from contact to contact, with body, bends and loops marked."""

from __future__ import annotations

from typing import Any

import numpy as np

from springgeo.api import Spring
from springgeo.plots.axes import BENDING, OTHER, SHEAR, axes_for, finished

CURVES = (
    ("max_axial", "greatest axial stress", BENDING, "-"),
    ("max_shear", "greatest shear stress", SHEAR, "-"),
    ("von_mises", "von Mises stress", OTHER, ":"),
)
BANDS = {"A": ("loop", "#FBE3D0"), "B": ("bend", "#CFE3F1"), "body": ("body", "#EBEBEB")}


def stress_along_wire(spring: Spring, load: float | None = None, ax: Any | None = None) -> Any:
    """Draw three stresses over arc length at a load; return the axes.

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
    ax = axes_for(ax)
    if load is None:
        load = max((p.load for p in spring.summary().points), default=1.0)
    columns = spring.stress(load)
    s = columns["s"]
    named: set[str] = set()
    for region, first, last in runs(columns["region"]):
        if region in BANDS:
            words, colour = BANDS[region]
            ax.axvspan(
                s[first],
                s[min(last + 1, len(s) - 1)],
                color=colour,
                lw=0,
                zorder=0,
                label=None if region in named else words,
            )
            named.add(region)
    for key, label, colour, dash in CURVES:
        ax.plot(s, columns[key], dash, color=colour, lw=1.6, label=label)
    ax.set_xlim(s[0], s[-1])
    ax.set_ylim(0, 1.35 * float(columns["von_mises"].max()))  # room for the legend
    title = f"{spring.spec.name} at {load:g} N"
    finished(ax, title, "arc length along the wire, mm", "stress on the surface, MPa")
    ax.legend(frameon=False, fontsize=9, ncols=3, loc="upper center")
    return ax


def runs(region: np.ndarray[Any, Any]) -> list[tuple[str, int, int]]:
    """Return (region, first, last) of each unbroken stretch of stations."""
    cuts = np.flatnonzero(region[1:] != region[:-1]) + 1
    ends = [*cuts, len(region)]
    return [(str(region[i]), int(i), int(j) - 1) for i, j in zip([0, *cuts], ends, strict=True)]

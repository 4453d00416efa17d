"""Alternating over mean stress: the cycle under the Gerber and Goodman lines."""

from __future__ import annotations

from typing import Any

import numpy as np

from springgeo.api import Spring
from springgeo.errors import SpringgeoError
from springgeo.mechanics import endurance
from springgeo.plots.axes import BENDING, OTHER, SHEAR, axes_for, finished
from springgeo.results.summary import FatiguePlace

_SHEAR = {"body_shear": ("body", "o"), "hook_torsion_b": ("B", "D")}
_BENDING = {"hook_bending_a": ("A", "s")}


def fatigue(spring: Spring, ax: Any | None = None, *, bending: bool = False) -> Any:
    """Draw the cycle of body and B in shear, or of A in bending; return the axes.

    Parameters
    ----------
    spring : Spring
        With loads and a duty that is not static.
    ax : matplotlib Axes, optional
    bending : bool
        Point A, in bending.

    Raises
    ------
    MissingLibraryError
        matplotlib is not installed.
    SpringgeoError
        The specification states no cycle.
    """
    s = spring.summary()
    if s.fatigue is None:
        raise SpringgeoError(
            "no cycle to draw: give service.loads and a service.duty of cyclic or infinite"
        )
    ax = axes_for(ax)
    names = _BENDING if bending else _SHEAR
    tensile = s.material.tensile_strength
    ultimate = tensile if bending else float(endurance.S_su(tensile))
    limits = [p.endurance_gerber for p in s.fatigue.along_the_wire.values()]
    if any(limit is not None for limit in limits):
        gerber, goodman = endurance_limits(spring, bending)
        mean = np.linspace(0.0, ultimate, 80)
        ax.plot(mean, gerber * (1 - (mean / ultimate) ** 2), "-", color=SHEAR, lw=2, label="Gerber")
        ax.plot([0.0, ultimate], [goodman, 0.0], "--", color=BENDING, lw=2, label="Goodman")
    for way, places, fill in (
        ("along the wire", s.fatigue.along_the_wire, OTHER),
        ("handbook", s.fatigue.handbook, "none"),
    ):
        for name, (words, mark) in names.items():
            if name in places:
                _point(ax, places[name], f"{words}, {way}", mark, fill)
    ax.set_xlim(left=0)
    ax.set_ylim(bottom=0)
    f, kind = s.fatigue, "bending" if bending else "shear"
    title = f"{spring.spec.name}: {kind}, {f.load_low:.4g} to {f.load_high:.4g} N"
    return finished(ax, title, "mean stress, MPa", "alternating stress, MPa")


def _point(ax: Any, place: FatiguePlace, label: str, mark: str, fill: str) -> None:
    ax.plot([place.mean], [place.alternating], mark, mec=OTHER, mfc=fill, ms=8, ls="", label=label)


def endurance_limits(spring: Spring, bending: bool) -> tuple[float, float]:
    """Return the fully reversed strengths of the Gerber and the Goodman line, MPa.

    Zimmerli's data, Shigley 10-28 ff., as the summary applies them.
    """
    peened = spring.spec.service.peened
    data = endurance.zimmerli(peened)
    shear = float(endurance.S_su(spring.summary().material.tensile_strength))
    both = [
        float(line(data[0], data[1], shear))
        for line in (endurance.S_e_gerber, endurance.S_e_goodman)
    ]
    if bending:
        both = [float(endurance.S_e_bending(x)) for x in both]
    return both[0], both[1]

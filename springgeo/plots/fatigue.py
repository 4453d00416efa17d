"""Alternating over mean stress: the cycle under the limit of each place for its life."""

from __future__ import annotations

from typing import Any

import numpy as np

from springgeo.api import Spring
from springgeo.errors import SpringgeoError
from springgeo.mechanics import life
from springgeo.plots.axes import OTHER, SHEAR, axes_for, finished
from springgeo.results.summary import FatiguePlace

_SHEAR = {"body_shear": ("body", "o", "-"), "hook_torsion_b": ("hook torsion", "D", "--")}
_BENDING = {"hook_bending_a": ("hook bending", "s", "-")}


def fatigue(spring: Spring, ax: Any | None = None, *, bending: bool = False) -> Any:
    """Draw the cycle of body and hook torsion, or of hook bending; return the axes.

    Parameters
    ----------
    spring : Spring
        With loads and a duty that is not static.
    ax : matplotlib Axes, optional
    bending : bool
        Hook bending.

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
    for name, (words, _, style) in names.items():
        place = s.fatigue.along_the_wire.get(name)
        if place is not None and place.life_gerber is not None and place.life_goodman is not None:
            S_e = life.Lines(np.asarray(place.life_gerber), np.asarray(place.life_goodman))
            mean = np.linspace(0.0, place.static_strength, 80)
            line = life.allowed(mean, S_e, place.ultimate, place.static_strength)
            ax.plot(mean, line, style, color=SHEAR, lw=2, label=f"limit, {words}")
    for way, places, fill in (
        ("along the wire", s.fatigue.along_the_wire, OTHER),
        ("handbook", s.fatigue.handbook, "none"),
    ):
        for name, (words, mark, _) in names.items():
            if name in places:
                _point(ax, places[name], f"{words}, {way}", mark, fill)
    ax.set_xlim(left=0)
    ax.set_ylim(bottom=0)
    f, kind = s.fatigue, "bending" if bending else "shear"
    title = f"{spring.spec.name}: {kind}, {f.load_low:.4g} to {f.load_high:.4g} N"
    return finished(ax, title, "mean stress, MPa", "alternating stress, MPa")


def _point(ax: Any, place: FatiguePlace, label: str, mark: str, fill: str) -> None:
    ax.plot([place.mean], [place.alternating], mark, mec=OTHER, mfc=fill, ms=8, ls="", label=label)

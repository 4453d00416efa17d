"""Initial-tension stress over the index: the preferred band, and where the spring lies."""

from __future__ import annotations

from typing import Any

import numpy as np

from springgeo.api import Spring
from springgeo.mechanics import initial_tension as published
from springgeo.plots.axes import BENDING, GOOD, QUIET, axes_for, finished


def initial_tension(spring: Spring, ax: Any | None = None) -> Any:
    """Draw the preferred band (Shigley 10-41) and the spring's own point; return the axes.

    An open-wound spring, or one with an index of which nothing is published, stands alone.

    Parameters
    ----------
    spring : Spring
    ax : matplotlib Axes, optional

    Raises
    ------
    MissingLibraryError
        matplotlib is not installed.
    """
    s, ax = spring.summary(), axes_for(ax)
    index = np.linspace(published.INDEX_LOW, published.INDEX_HIGH, 60)
    band = published.preferred_shigley(index)
    ax.fill_between(
        index,
        np.asarray(band.low),
        np.asarray(band.high),
        color=GOOD,
        alpha=0.25,
        lw=0,
        label="preferred range",
    )
    ax.plot(index, np.asarray(band.middle), "--", color=QUIET, lw=1, label="its middle")
    words = "this spring, assumed" if s.initial_tension.assumed else "this spring"
    ax.plot([s.geometry.index], [s.initial_tension.stress], "o", color=BENDING, ms=8, label=words)
    ax.set_ylim(bottom=0)
    return finished(
        ax, spring.spec.name, "spring index D/d", "initial-tension stress (uncorrected), MPa"
    )

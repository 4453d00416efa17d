"""A picture of the front: the first two objectives, wires by colour, choices marked."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

from springgeo.mechanics.value import Array
from springgeo.sizing.size import Result

# what the axis shows: its words, and from the cost (kg, mm, mm³, reserve, Hz) to what is shown
AXES: dict[str, tuple[str, Callable[[Array], Array]]] = {
    "mass": ("mass, g", lambda c: 1e3 * c),
    "envelope": ("room at the longest length, cm³", lambda c: 1e-3 * c),
    "margin": ("least margin over the one asked for", lambda c: 1 / c),
    "cost": ("cost, of the mass in hard-drawn wire, g", lambda c: 1e3 * c),
    "free_length": ("free length, mm", lambda c: c),
    "natural_frequency": ("natural frequency, Hz", lambda c: 1 / c),
}


def plot_front(result: Result, target: Path) -> bool:
    """Write a PNG of the front; return False without matplotlib or with a single objective."""
    found = result.found
    if found.costs.shape[1] < 2 or not found.places:
        return False
    try:
        from matplotlib.figure import Figure
    except ImportError:
        return False
    (x_words, x), (y_words, y) = (AXES[name] for name in found.job.objectives[:2])
    # the stubs of matplotlib leave much without types
    figure: Any = Figure(figsize=(7.0, 5.0), layout="constrained")
    axes = figure.subplots()
    names = np.array([found.wires.material[p.wire] for p in found.places])
    for name in np.unique(names):
        some = found.costs[names == name]
        axes.plot(x(some[:, 0]), y(some[:, 1]), ".", ms=3, label=name)
    for number, w in enumerate(result.winners, 1):
        first, second = (np.array(w.candidate.cost[k]) for k in found.job.objectives[:2])
        axes.plot(x(first), y(second), "ko", mfc="none")
        axes.annotate(str(number), (x(first), y(second)), (5, 5), textcoords="offset points")
    axes.set(xlabel=x_words, ylabel=y_words, title=found.job.name)
    axes.legend(fontsize="small")
    figure.savefig(target, dpi=150, metadata={"Software": None})
    return True

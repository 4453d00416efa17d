"""What every plot shares: the axes to draw on, and colours told apart by every kind of eye."""

from __future__ import annotations

from typing import Any

from springgeo.optional import need

# palette of Okabe and Ito, 2008: bending, shear, and what is neither; lines differ in dash as well
BENDING, SHEAR, OTHER, GOOD = "#D55E00", "#0072B2", "#222222", "#009E73"
QUIET = "#666666"


def axes_for(ax: Any | None) -> Any:
    """Return the given axes, or those of a new figure that no window shows.

    Raises
    ------
    MissingLibraryError
        matplotlib is not installed.
    """
    if ax is not None:
        return ax
    Figure = need("matplotlib.figure", "a plot", "plots").Figure
    return Figure(figsize=(7.2, 4.4), layout="constrained").subplots()


def finished(ax: Any, title: str, x: str, y: str) -> Any:
    """Label the axes, with the legend beside nothing that is drawn, and return them."""
    ax.set(xlabel=x, ylabel=y)
    ax.set_title(title, loc="left", fontsize=11)
    ax.spines[["top", "right"]].set_visible(False)
    ax.legend(frameon=False, fontsize=9)
    return ax

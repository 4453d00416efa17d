"""A chart of a spring on matplotlib axes, or on those of a figure of its own."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from springgeo.chart import Chart
from springgeo.text.shown import Shown

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure


def drawn(
    chart: Chart, title: str, shown: Shown, axes: Axes | None, *, beside: bool = False
) -> Figure:
    """Draw a chart under a title, on given axes or new ones; return the figure.

    In the reader's units and language; ``beside`` puts the legend right of the axes.

    Raises
    ------
    MissingLibraryError
        matplotlib is not installed.
    """
    from springgeo.chart import mpl

    if axes is None:
        axes = mpl.figure().subplots()
    seen = replace(shown, typeset=True)
    return mpl.draw(replace(chart, title=title).shown(seen), axes, beside=beside)

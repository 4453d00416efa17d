"""A diagram drawn on matplotlib axes, and figures that show themselves and save the same bytes."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterable
from functools import cache
from os import PathLike
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

from springgeo.chart.layout import Layout
from springgeo.chart.model import Area, Chart, Dots, Item, Line, Marks, Rule, Stripe, keys
from springgeo.chart.style import BAR, STYLES, Style, ink, marked
from springgeo.errors import FileError
from springgeo.optional import need
from springgeo.publish.atomic import atomic_write

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

_SHAPES = {
    "circle": "o",
    "square": "s",
    "diamond": "D",
    "triangle": "^",
    "wedge": "v",
    "plus": "P",
    "cross": "X",
    "ring": "o",
}
_METADATA: dict[str, dict[str, None]] = {
    "png": {"Software": None},
    "svg": {"Date": None},
    "pdf": {"CreationDate": None, "ModDate": None},
}
KINDS = tuple(_METADATA)


def figure(wide: float = 7.2, high: float = 4.4) -> Figure:
    """Return a new figure, inches, that no window shows; a notebook shows it as a picture.

    Raises
    ------
    MissingLibraryError
        matplotlib is not installed.
    """
    return _kind()(figsize=(wide, high), layout="constrained")


@cache
def _kind() -> type[Figure]:
    Figure: Any = need("matplotlib.figure", "a plot", "plots").Figure

    class Shown(Figure):  # type: ignore[misc]
        """A figure that a notebook shows whether or not pyplot was ever imported."""

        def _repr_png_(self) -> bytes:
            return picture(self, "png", dpi=100)

    return Shown


def kind_of(place: Path) -> str:
    """Return which kind of picture a file is to be, by its ending; raises FileError."""
    kind = place.suffix[1:].lower()
    if kind not in KINDS:
        raise FileError(f"cannot write {place}: give a file ending in .png, .svg or .pdf")
    return kind


def picture(made: Figure, kind: str, dpi: float = 150) -> bytes:
    """Return a figure as PNG, SVG or PDF: the same bytes for the same figure."""
    import matplotlib as mpl

    out = io.BytesIO()
    with mpl.rc_context({"svg.hashsalt": "springgeo"}):
        made.savefig(out, format=kind, dpi=dpi, metadata=_METADATA[kind])
    return out.getvalue()


def written(target: str | PathLike[str], drawn: Callable[[], Figure]) -> Path:
    """Write a figure as PNG, SVG or PDF by the file's ending, looked at before it is drawn.

    Raises
    ------
    FileError
        The ending is another, or the file cannot be written.
    """
    place = Path(target)
    kind = kind_of(place)
    atomic_write(place, picture(drawn(), kind))
    return place


def draw(chart: Chart, axes: Axes, *, beside: bool = False, legend: bool = True) -> Figure:
    """Draw on axes, and return their figure.

    Parameters
    ----------
    chart : Chart
    axes : matplotlib Axes
    beside : bool
        The legend stands right of the axes instead of within.
    legend : bool
    """
    named: set[str] = set()
    for z, item in enumerate(chart.items, start=2):
        words = getattr(item, "key", "")
        label = words if words and words not in named else None
        named.add(words)
        _item(item, axes, label, z)
    for axis, way in ((chart.x, "x"), (chart.y, "y")):
        getattr(axes, f"set_{way}label")(axis.name)
        if axis.log:
            getattr(axes, f"set_{way}scale")("log")
        getattr(axes, f"set_{way}lim")(axis.low, axis.high)
    axes.set_title(chart.title, loc="left", fontsize=11, parse_math=False)
    axes.spines[["top", "right"]].set_visible(False)
    _words(chart, axes)
    if legend and keys(chart):
        place: dict[str, Any] = {}
        if beside:
            place = {"loc": "center left", "bbox_to_anchor": (1.01, 0.5)}
        axes.legend(frameon=False, fontsize=9, **place)
    return cast("Figure", axes.figure)


def _item(item: Item, axes: Axes, label: str | None, z: float) -> None:
    if isinstance(item, Stripe):
        axes.axvspan(item.low, item.high, color=_fill(item.role), lw=0, zorder=0, label=label)
    elif isinstance(item, Area):
        axes.fill(*_columns(item.points), color=_fill(item.role), lw=0, zorder=1, label=label)
    elif isinstance(item, Line):
        axes.plot(*_columns(item.points), label=label, zorder=z, **_line(STYLES[item.role]))
    elif isinstance(item, Dots):
        dots: dict[str, Any] = {"ls": "", "marker": ".", "ms": 4, "alpha": 0.55}
        colour = ink(STYLES[item.role].line).light
        axes.plot(*_columns(item.points), label=label, zorder=z, color=colour, **dots)
    elif isinstance(item, Marks):
        _marks(item, axes, label, z)
    elif isinstance(item, Rule):
        axes.axvline(item.x, zorder=z, **_line(STYLES[item.role]))


def _marks(item: Marks, axes: Axes, label: str | None, z: float) -> None:
    look = marked(item.role)
    hollow = look.fill == "card" or item.shape == "ring"
    face = "none" if hollow else ink(look.fill).light
    edge = ink(STYLES[item.role].line).light if hollow else face
    shown: dict[str, Any] = {"marker": _SHAPES[item.shape], "mfc": face, "mec": edge, "ms": 6.5}
    x, y = _columns(item.points)
    if item.reach:
        colour = ink(BAR.line).light
        axes.errorbar(
            x, y, item.reach, ls="", ecolor=colour, capsize=4, label=label, zorder=z, **shown
        )
    else:
        axes.plot(x, y, ls="", label=label, zorder=z, **shown)


def _columns(points: Iterable[tuple[float, float]]) -> tuple[list[float], list[float]]:
    x, y = zip(*points, strict=True)
    return [float(v) for v in x], [float(v) for v in y]


def _fill(role: str) -> str:
    return ink(STYLES[role].fill).light


def _line(style: Style) -> dict[str, Any]:
    width = 0.8 * style.width
    dash = (0, tuple(v / width for v in style.dash)) if style.dash else "-"
    return {"color": ink(style.line).light, "lw": width, "ls": dash}


def _words(chart: Chart, axes: Axes) -> None:
    """Write labels where a layout of about the axes' size puts them, in points."""
    box, dpi = axes.bbox, axes.figure.dpi
    wide, high = (72 * v / dpi for v in (box.width, box.height))
    layout = Layout(chart, wide, high, 9.0, bare=True)
    for label, spot in layout.spots:
        u, v = layout.at(label.x, label.y)
        axes.annotate(
            label.text,
            (label.x, label.y),
            (spot.u - u, v - spot.v),
            textcoords="offset points",
            ha={"start": "left", "middle": "center", "end": "right"}[spot.side],
            fontsize=9,
            zorder=50,
            arrowprops={"arrowstyle": "-", "lw": 0.6, "color": ink("soft").light}
            if spot.far
            else None,
            parse_math=False,
        )
    for stripe, u, _ in layout.stripes:
        axes.annotate(
            stripe.text,
            (u / wide, 1.0),
            (0, -3),
            xycoords="axes fraction",
            textcoords="offset points",
            ha="center",
            va="top",
            fontsize=8.5,
            color=ink("soft").light,
        )
    for item in chart.items:
        if isinstance(item, Rule):
            axes.annotate(
                item.text,
                (item.x, 1.0),
                (2, -3),
                xycoords=("data", "axes fraction"),
                textcoords="offset points",
                rotation=90,
                ha="left",
                va="top",
                fontsize=8,
                color=ink(STYLES[item.role].line).light,
                bbox={"facecolor": ink("card").light, "alpha": 0.8, "pad": 1, "lw": 0},
            )

"""Writes a sheet as PDF, SVG or PNG: the same bytes for the same sheet."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Literal

from springgeo.drawing.arrows import flatten
from springgeo.drawing.measured import CAPITAL
from springgeo.drawing.page import LAYERS, Page, Text
from springgeo.optional import need

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

_POINT = 72 / 25.4
_SETTINGS = {
    "svg.hashsalt": "springgeo",
    "svg.fonttype": "path",
    "pdf.fonttype": 42,
    "pdf.compression": 6,
    "font.family": ["DejaVu Sans"],
    "text.usetex": False,
    "path.simplify": False,
}
_METADATA: dict[str, dict[str, str | None]] = {
    "pdf": {"CreationDate": None, "ModDate": None, "Creator": None, "Producer": None},
    "svg": {"Date": None, "Creator": None},
    "png": {"Software": None},
}


def pdf_bytes(pages: list[Page]) -> bytes:
    """Return sheets as the contents of one PDF."""
    matplotlib = need("matplotlib", "a drawing", "drawing")
    backend = need("matplotlib.backends.backend_pdf", "a drawing", "drawing")
    out = io.BytesIO()
    metadata = {**_METADATA["pdf"], "Title": pages[0].title}
    with (
        matplotlib.rc_context({**matplotlib.rcParamsDefault, **_SETTINGS}),
        backend.PdfPages(out, metadata=metadata) as pdf,
    ):
        for page in pages:
            pdf.savefig(make_figure(page))
    return out.getvalue()


def figure_bytes(page: Page, kind: Literal["svg", "png"], dpi: float = 200) -> bytes:
    """Return a sheet as a file's contents; ``dpi`` is for PNG."""
    matplotlib = need("matplotlib", "a drawing", "drawing")
    need("matplotlib.backends.backend_agg", "a drawing", "drawing")
    with matplotlib.rc_context({**matplotlib.rcParamsDefault, **_SETTINGS}):
        figure = make_figure(page)
        out = io.BytesIO()
        metadata = dict(_METADATA[kind])
        if kind != "png":
            metadata["Title"] = page.title
        figure.savefig(out, format=kind, dpi=dpi, metadata=metadata)
    return out.getvalue()


def make_figure(page: Page) -> Figure:
    """Return the sheet as a matplotlib figure of the paper's true size, one unit a millimetre."""
    figure: Figure = need("matplotlib.figure", "a drawing", "drawing").Figure(
        figsize=(page.width / 25.4, page.height / 25.4)
    )
    axes = figure.add_axes((0, 0, 1, 1))
    axes.set_xlim(0, page.width)
    axes.set_ylim(0, page.height)
    axes.set_axis_off()
    lines, texts = flatten(page)
    collection = need("matplotlib.collections", "a drawing", "drawing").LineCollection
    for layer, pen in LAYERS.items():
        own = [line for line in lines if line.layer == layer]
        width = pen.width * _POINT
        dash = (0, tuple(v / pen.width for v in pen.dash)) if pen.dash else "solid"
        axes.add_collection(
            collection(
                [line.points for line in own if not line.filled],
                colors="black",
                linewidths=width,
                linestyles=[dash],
                capstyle="butt" if pen.dash else "round",
                joinstyle="round",
            ),
            autolim=False,
        )
        for line in own:
            if line.filled:
                axes.fill(*line.points.T, color="black", linewidth=0)
    for text in texts:
        _write(axes, text)
    return figure


def _write(axes: Axes, text: Text) -> None:
    axes.text(
        *text.at,
        text.text.replace("$", r"\$"),
        fontsize=text.height / CAPITAL * _POINT,
        ha=text.across,
        va="baseline",
        rotation=90 if text.turned else 0,
        rotation_mode="anchor",
    )

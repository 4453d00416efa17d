"""A picture of the fit: every clearance over the stroke, with the stops and what is too near."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from springgeo.errors import FileError, SpringgeoError
from springgeo.fit.model import FitReport, Gap
from springgeo.optional import need
from springgeo.text.words import ENDS

# colours that a colour-blind eye tells apart (Okabe and Ito), and the marks beside them
_LINES = (
    ("#0072B2", "o"),
    ("#E69F00", "s"),
    ("#009E73", "^"),
    ("#CC79A7", "v"),
    ("#56B4E9", "D"),
    ("#D55E00", "P"),
    ("#000000", "x"),
)
_BAD, _QUIET = "#B22222", "0.45"
_KINDS = ("png", "svg", "pdf")


def plot_fit(report: FitReport, axes: Any = None) -> Any:
    """Draw the clearances over the length; return the matplotlib axes.

    Parameters
    ----------
    report : FitReport
        With at least one state.
    axes : matplotlib Axes, optional
        Where to draw; a new figure if left out.

    Raises
    ------
    SpringgeoError
        matplotlib is not installed, or no state could be fitted.
    """
    if not report.states:
        raise SpringgeoError(f"nothing to plot: {report.verdict}")
    if axes is None:
        axes = _figure().subplots()
    lengths = [s.length for s in report.states]
    series = list(_series(report))
    for (name, gaps), (colour, mark) in zip(series, _cycle(len(series)), strict=True):
        axes.plot(lengths, gaps, color=colour, marker=mark, ms=4, lw=1.4, label=name)
    low = min(0.0, *(min(g) for _, g in series)) if series else 0.0
    high = max((max(g) for _, g in series), default=1.0)
    room = 0.12 * max(high - low, 1e-3)
    axes.set_ylim(low - room, high + 2.2 * room)
    axes.axhspan(low - room, 0.0, color=_BAD, alpha=0.10, lw=0)
    axes.axhline(0.0, color=_BAD, lw=1.0)
    axes.annotate(
        "parts overlap",
        (0.995, 0.01),
        xycoords="axes fraction",
        ha="right",
        va="bottom",
        fontsize=8,
        color=_BAD,
    )
    _stops(report, axes)
    axes.set(xlabel="length inside hooks, mm", ylabel="clearance, mm")
    unwise = [f.code for f in report.findings if f.severity == "warning"]
    words = [f"{report.name}: {report.verdict}", *dict.fromkeys(unwise)]
    axes.set_title(", ".join(words), loc="left", fontsize=10)
    if series:
        axes.legend(loc="center left", bbox_to_anchor=(1.01, 0.5), frameon=False, fontsize=9)
    return axes


def write_plot(report: FitReport, target: str | os.PathLike[str]) -> Path:
    """Write the picture as PNG, SVG or PDF by its ending; the same bytes for the same report.

    Raises
    ------
    FileError
        The ending is another, or the file cannot be written.
    SpringgeoError
        As for `plot_fit`.
    """
    # the writer of files stands above this room, and a picture is drawn on demand alone
    place = Path(target)
    kind = place.suffix[1:].lower()
    if kind not in _KINDS:
        raise FileError(f"cannot write {place}: give a file ending in .png, .svg or .pdf")
    figure = _figure()
    plot_fit(report, figure.subplots())
    import matplotlib as mpl

    aside = place.with_name(f".{place.name}.part")
    none: dict[str, Any] = {"png": {"Software": None}, "svg": {"Date": None}}
    try:
        with mpl.rc_context({"svg.hashsalt": "springgeo"}):
            meta = none.get(kind, {"CreationDate": None, "ModDate": None})
            figure.savefig(aside, format=kind, dpi=150, metadata=meta)
        aside.replace(place)
    except OSError as exc:
        reason = (exc.strerror or str(exc)).lower()
        raise FileError(f"cannot write {place}: {reason}") from None
    finally:
        aside.unlink(missing_ok=True)
    return place


def _figure() -> Any:
    Figure = need("matplotlib.figure", "the plot", "plots").Figure
    return Figure(figsize=(8.0, 4.6), layout="constrained")


def _series(report: FitReport) -> Iterator[tuple[str, list[float]]]:
    """Yield a name and the clearance in every state; a seat that merely touches says nothing."""
    for side in ("a", "b"):
        ends = [getattr(s, side) for s in report.states]
        if any(e is None for e in ends):
            continue
        if min(e.hook.distance for e in ends) < -1e-3:
            yield f"{ends[0].part}, {ENDS[side]}, to its hook", [e.hook.distance for e in ends]
        yield f"{ends[0].part}, {ENDS[side]}, to the body", [e.neighbour.distance for e in ends]
    for name in ("bore", "rod"):
        gaps: list[Gap | None] = [getattr(s, name) for s in report.states]
        known = [g.distance for g in gaps if g is not None]
        if len(known) == len(gaps):
            yield {"bore": "spring in its bore", "rod": "spring over its rod"}[name], known
    for name in report.states[0].solids:
        yield name, [s.solids[name].distance for s in report.states]


def _cycle(count: int) -> Iterator[tuple[str, str]]:
    for i in range(count):
        yield _LINES[i % len(_LINES)]


def _stops(report: FitReport, axes: Any) -> None:
    """Mark the named lengths, and where the first stress reaches its allowable."""
    marks = [(s.length, s.stop, _QUIET) for s in report.states if s.stop]
    if report.safe_length is not None:
        marks.append((report.safe_length, "stress limit", _BAD))
        last = report.states[-1].length
        if report.safe_length < last:
            axes.axvspan(report.safe_length, last, color=_BAD, alpha=0.06, lw=0)
        else:
            marks.pop()
    for length, words, colour in marks:
        axes.axvline(length, color=colour, lw=0.8, ls="--" if colour == _BAD else ":")
        axes.annotate(
            words,
            (length, 1.0),
            (2, -3),
            xycoords=("data", "axes fraction"),
            textcoords="offset points",
            rotation=90,
            ha="left",
            va="top",
            fontsize=8,
            color=colour,
            bbox={"facecolor": "white", "alpha": 0.8, "pad": 1, "lw": 0},
        )

"""Load over length: the initial tension's offset, both rates, working points with tolerance."""

from __future__ import annotations

from springgeo.report.chart import LETTER, LINE, Chart, legend, spread
from springgeo.report.stroke import Stroke
from springgeo.report.value import number
from springgeo.results.summary import WirePoint
from springgeo.summary import Summary

# labels beside working points; of more points the first and the last are named
_MOST = 4


def load_chart(s: Summary, stroke: Stroke) -> str:
    """Return the diagram and its legend as HTML; a marker follows the view's slider."""
    free, tension = s.geometry.free_length, s.initial_tension.force
    points = s.along_the_wire.points
    stops = [(p.length, p.load) for p in stroke.stops]
    ends = [*stops, *((p.length, p.load) for p in s.points), *((p.length, p.load) for p in points)]
    # a spring that its loads do not move still gets an axis worth reading
    far = max(max(x for x, _ in ends), 1.05 * free)
    top = 1.12 * max([tension, 1e-9, *(y for _, y in ends)])
    span = far - free
    chart = Chart(
        x=(max(0.0, free - 0.14 * span), far + 0.12 * span),
        y=(0.0, top),
        x_name="length inside hooks, mm",
        y_name="load, N",
        title="Load over length",
        told=told(s),
        name="load-length",
    )
    if tension > 0:
        chart.line([(chart.x[0], tension), (free, tension)], "thin")
    if tension > 0.06 * top:  # else it has no room above the axis; the words say it
        chart.letters(
            chart.edges[0] + 4,
            chart.at(free, tension)[1] - 6,
            f"Fi {number(tension, 3)} N",
            "start",
            "label",
        )
    last = max(y for _, y in ends)
    for rate, kind in ((s.rate, "book line2"), (s.along_the_wire.rate, "wire line1")):
        end = max(free + (last - tension) / rate, free)
        chart.line([(free, 0.0), (free, tension), (end, max(last, tension))], kind)
    _points(chart, s, points)
    u, v = chart.at(free, 0.0)
    left, right, high, low = chart.edges
    per_mm = (right - left) / (chart.x[1] - chart.x[0])
    per_newton = (low - high) / (chart.y[1] - chart.y[0])
    chart.raw(
        f'<circle id="load-marker" class="here" cx="{u:.1f}" cy="{v:.1f}" r="6.5" '
        f'data-x0="{left - per_mm * chart.x[0]:.6f}" data-x1="{per_mm:.6f}" '
        f'data-y0="{low:.6f}" data-y1="{-per_newton:.6f}"/>'
    )
    return chart.svg() + legend(_entries(bool(points)))


def told(s: Summary) -> str:
    """Return the diagram in words."""
    free, tension = number(s.geometry.free_length), s.initial_tension.force
    start = (
        f"Nothing moves below the initial tension of {number(tension, 3)} N at the free length of "
        f"{free} mm; above it"
        if tension > 0
        else f"There is no initial tension: from the free length of {free} mm"
    )
    words = (
        f"{start} the load rises by {number(s.along_the_wire.rate)} N/mm along the wire, "
        f"{number(s.rate)} N/mm by the handbook."
    )
    for p in s.along_the_wire.points[:_MOST]:
        words += f" {number(p.load)} N at {number(p.length)} mm."
    return words


def _points(chart: Chart, s: Summary, points: tuple[WirePoint, ...]) -> None:
    tolerance = {p.load: p.tolerance_percent for p in s.load_line.along_the_wire[2:]}
    for p in points:
        percent = tolerance.get(p.load)
        if percent is not None:
            low, high = (p.load * (1 + k * percent / 100) for k in (-1, 1))
            chart.line([(p.length, low), (p.length, high)], "bar")
        chart.mark(p.length, p.load, "point")
    numbered = list(enumerate(points, start=1))
    shown = numbered if len(numbered) <= _MOST else [numbered[0], numbered[-1]]
    places = [chart.at(p.length, p.load) for _, p in shown]
    left, _, top, bottom = chart.edges
    heights = spread([v + 4 for _, v in places], LINE, top + 10, bottom - 6)
    for (i, p), (u, own), v in zip(shown, places, heights, strict=True):
        text = f"F{i} {number(p.load, 3)} N, {number(p.length)} mm"
        if u - 12 - LETTER * len(text) > left:
            chart.letters(u - 12, v, text, "end", "label")
        else:  # no room before the axis: right of the point, under the line
            chart.letters(u + 12, min(own + 16, bottom - 6), text, "start", "label")


def _entries(points: bool) -> list[tuple[str, str, str]]:
    found = [
        ("wire line1", "line", "rate along the wire"),
        ("book line2", "line", "rate by the handbook"),
    ]
    if points:
        found.append(("point", "circle", "working point, with load tolerance"))
    return found

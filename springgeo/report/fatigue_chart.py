"""Mean against alternating stress: the cycle under the limit of each place for its life."""

from __future__ import annotations

import numpy as np

from springgeo.mechanics import life
from springgeo.report.chart import LINE, Chart, legend
from springgeo.report.value import number
from springgeo.results.summary import FatiguePlace
from springgeo.summary import Summary

PLACES = {
    "body_shear": ("body", "circle", "line1"),
    "hook_torsion_b": ("hook torsion", "diamond", "line2"),
    "hook_bending_a": ("hook bending", "square", "line1"),
}


def fatigue_charts(s: Summary) -> str:
    """Return one diagram for shear, one for bending, and a legend; or nothing without data."""
    f = s.fatigue
    if f is None:
        return ""
    parts = []
    for bending, names in ((False, ("body_shear", "hook_torsion_b")), (True, ("hook_bending_a",))):
        both = {
            way: {n: places[n] for n in names if n in places}
            for way, places in (("wire", f.along_the_wire), ("book", f.handbook))
        }
        if any(limit(p) for p in both["wire"].values()):
            parts.append(_chart(bending, both))
    if not parts:
        return ""
    lasting = "for ever" if f.cycles is None else f"for {number(f.cycles, 3)} cycles"
    keys = [
        ("line1", "line", f"limit of body, or of hook bending, {lasting}"),
        ("line2", "line", f"limit of hook torsion, {lasting}"),
        ("point", "circle", "body, along the wire"),
        ("point", "diamond", "hook torsion, along the wire"),
        ("point", "square", "hook bending, along the wire"),
        ("hollow", "circle", "hollow: by the handbook"),
    ]
    return f'<div class="two">{"".join(parts)}</div>{legend(keys)}'


def limit(p: FatiguePlace) -> list[tuple[float, float]]:
    """Return the line where a place's factor is 1, mean and alternating stress, MPa.

    The lower of Gerber's and Goodman's line at the life asked for, down to the static line; empty
    without published data.
    """
    if p.life_gerber is None or p.life_goodman is None:
        return []
    S_e = life.Lines(np.asarray(p.life_gerber), np.asarray(p.life_goodman))
    mean = np.linspace(0.0, p.static_strength, 80)
    line = life.allowed(mean, S_e, p.ultimate, p.static_strength)
    return list(zip(mean.tolist(), line.tolist(), strict=True))


def _chart(bending: bool, both: dict[str, dict[str, FatiguePlace]]) -> str:
    every = [p for way in both.values() for p in way.values()]
    limits = {name: limit(p) for name, p in both["wire"].items()}
    points = [point for line in limits.values() for point in line]
    far = 1.06 * max(*(x for x, _ in points), *(p.mean for p in every))
    high = 1.25 * max(*(y for _, y in points), *(p.alternating for p in every))
    kind = "hook bending" if bending else "body, and hook torsion"
    chart = Chart(
        x=(0.0, far),
        y=(0.0, high),
        x_name="mean stress, MPa",
        y_name="alternating stress, MPa",
        title=f"Cycle: {kind}",
        told=_told(both["wire"]),
        name="fatigue-bending" if bending else "fatigue-shear",
    )
    for name, line in limits.items():
        if line:
            chart.line(line, PLACES[name][2])
    for way in ("book", "wire"):
        for name, p in both[way].items():
            chart.mark(
                p.mean, p.alternating, "hollow" if way == "book" else "point", PLACES[name][1]
            )
    _names(chart, both["wire"])
    return f'<figure><figcaption class="panel">{chart.title}</figcaption>{chart.svg()}</figure>'


def _names(chart: Chart, places: dict[str, FatiguePlace]) -> None:
    """Write mean ± alternating beside each mark: of two, the lower below its mark if it can."""
    order = sorted(places.items(), key=lambda e: e[1].alternating)
    room = chart.edges[3] - chart.at(order[0][1].mean, order[0][1].alternating)[1] > 22
    steps = (17.0, -9.0) if room and len(order) > 1 else (-9.0, -9.0 - LINE)
    for dy, (name, p) in zip(steps, order, strict=False):
        text = f"{PLACES[name][0]} {number(p.mean, 3)} ± {number(p.alternating, 3)}"
        u, _ = chart.at(p.mean, p.alternating)
        side, dx = ("start", 11.0) if u < 0.6 * chart.width else ("end", -11.0)
        chart.label(p.mean, p.alternating, text, side, dx, dy)


def _told(places: dict[str, FatiguePlace]) -> str:
    words = []
    for name, p in places.items():
        text = f"{PLACES[name][0]}: {number(p.mean, 3)} ± {number(p.alternating, 3)} MPa"
        if p.factor is not None:
            text += f", factor {number(p.factor, 3)}"
        words.append(text)
    return "; ".join(words) + "."

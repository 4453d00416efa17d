"""Mean against alternating stress: the cycle under the Gerber and Goodman lines."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.mechanics import endurance
from springgeo.report.chart import LINE, Chart, legend
from springgeo.report.value import number
from springgeo.results.summary import FatiguePlace
from springgeo.summary import Summary

PLACES = {
    "body_shear": ("body", "circle"),
    "hook_torsion_b": ("B", "diamond"),
    "hook_bending_a": ("A", "square"),
}


@dataclass(frozen=True)
class Limits:
    """Ultimate strength and endurance limits by both lines, MPa."""

    ultimate: float
    gerber: float
    goodman: float


def limits(s: Summary, bending: bool) -> Limits:
    """Return the limits in shear, or in bending, by Zimmerli's data.

    Source: Shigley 10-28 ff., as ``springgeo.summary.fatigue`` applies them.
    """
    peened = bool(s.specification.get("service", {}).get("peened", False))
    tensile = s.material.tensile_strength
    shear = float(endurance.S_su(tensile))
    data = endurance.zimmerli(peened)
    gerber, goodman = (
        float(line(data[0], data[1], shear))
        for line in (endurance.S_e_gerber, endurance.S_e_goodman)
    )
    if not bending:
        return Limits(shear, gerber, goodman)
    return Limits(tensile, *(float(endurance.S_e_bending(x)) for x in (gerber, goodman)))


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
        if any(p.endurance_gerber is not None for p in both["wire"].values()):
            parts.append(_chart(s, bending, both))
    if not parts:
        return ""
    keys = [
        ("line1", "line", "Gerber, infinite life"),
        ("line2", "line", "Goodman, infinite life"),
        ("point", "circle", "body, along the wire"),
        ("point", "diamond", "B, along the wire"),
        ("point", "square", "A, along the wire"),
        ("hollow", "circle", "hollow: by the handbook"),
    ]
    if any(_life(p) is not None for p in f.along_the_wire.values()):
        keys.insert(2, ("line3", "line", "repeated-load table, life asked for"))
    return f'<div class="two">{"".join(parts)}</div>{legend(keys)}'


def _life(p: FatiguePlace) -> float | None:
    """Return the greatest stress the repeated-load table allows, MPa."""
    return None if p.life_table is None else p.life_table * (p.mean + p.alternating)


def _chart(s: Summary, bending: bool, both: dict[str, dict[str, FatiguePlace]]) -> str:
    limit = limits(s, bending)
    every = [p for way in both.values() for p in way.values()]
    far = 1.06 * max(limit.ultimate, *(p.mean for p in every))
    high = 1.25 * max(limit.gerber, limit.goodman, *(p.alternating for p in every))
    kind = "bending at A" if bending else "shear in body and at B"
    chart = Chart(
        x=(0.0, far),
        y=(0.0, high),
        x_name="mean stress, MPa",
        y_name="alternating stress, MPa",
        title=f"Cycle: {kind}",
        told=_told(both["wire"]),
        name="fatigue-bending" if bending else "fatigue-shear",
    )
    mean = np.linspace(0.0, limit.ultimate, 50)
    gerber = limit.gerber * (1 - (mean / limit.ultimate) ** 2)
    chart.line(list(zip(mean, gerber, strict=True)), "line1")
    chart.line([(0.0, limit.goodman), (limit.ultimate, 0.0)], "line2")
    _lives(chart, both["wire"], high)
    for way in ("book", "wire"):
        for name, p in both[way].items():
            chart.mark(
                p.mean, p.alternating, "hollow" if way == "book" else "point", PLACES[name][1]
            )
    _names(chart, both["wire"])
    return f'<figure><figcaption class="panel">{chart.title}</figcaption>{chart.svg()}</figure>'


def _lives(chart: Chart, places: dict[str, FatiguePlace], high: float) -> None:
    """Draw where the greatest stress is what the repeated-load table allows, for each place."""
    lives = sorted((v, PLACES[n][0]) for n, p in places.items() if (v := _life(p)) is not None)
    for i, (life, name) in enumerate(lives):
        start = max(0.0, life - high)
        chart.line([(start, life - start), (life, 0.0)], "line3")
        left = i == 0 and len(lives) > 1
        chart.label(
            start, life - start, name, "end" if left else "start", dx=-4 if left else 5, dy=11
        )


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
        if p.goodman is not None:
            text += f", factor {number(p.goodman, 3)} by Goodman"
        words.append(text)
    return "; ".join(words) + "."

"""A picture of the front as SVG: one panel for each pair of objectives, wires by colour.

Written here, without a plotting library: that takes a tenth of a second where one takes half of
the whole job, and it works where none is installed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import combinations
from typing import NamedTuple

import numpy as np

from springgeo.mechanics.value import Array
from springgeo.sizing.size import Result

# what an axis shows: its words, from the cost (kg, mm, mm³, reserve, Hz) to what is shown, and
# whether more of it is better
AXES: dict[str, tuple[str, Callable[[Array], Array], bool]] = {
    "mass": ("mass, g", lambda c: 1e3 * c, False),
    "envelope": ("room at the longest length, cm³", lambda c: 1e-3 * c, False),
    "margin": ("least margin over the one asked for", lambda c: 1 / c, True),
    "cost": ("cost, of the mass in hard-drawn wire, g", lambda c: 1e3 * c, False),
    "free_length": ("free length, mm", lambda c: c, False),
    "natural_frequency": ("natural frequency, Hz", lambda c: 1 / c, True),
}
# distinct for most forms of colour blindness: the palette of Okabe and Ito, 2008, less its yellow
COLOURS = ("#0072b2", "#d55e00", "#009e73", "#cc79a7", "#56b4e9", "#e69f00", "#5b5b5b")
PANEL, GAP, EDGE, TOP, LINE = 300.0, 74.0, 62.0, 46.0, 17.0
MOST_PANELS = 3
MOST_POINTS = 3000
SUBJECT = ": what is given up for what"
INK, GRID, SOFT = "#22262b", "#e3e6ea", "#5a626c"


class Axis(NamedTuple):
    """A logarithmic scale from values to a share of the panel, 0 to 1, with its ticks."""

    words: str
    low: float
    high: float
    ticks: tuple[float, ...]

    def at(self, value: Array) -> Array:
        """Return where values lie."""
        return np.asarray(np.log(value / self.low) / np.log(self.high / self.low))


def front_svg(result: Result) -> str | None:
    """Return the picture; None without a front or with a single objective."""
    found = result.found
    names = found.job.objectives
    if len(names) < 2 or not found.places:
        return None
    shown = {n: AXES[n][1](found.costs[:, i]) for i, n in enumerate(names)}
    chosen = {n: AXES[n][1](np.array([w.candidate.cost[n] for w in result.winners])) for n in names}
    axes = {n: _axis(n, np.concatenate([shown[n], chosen[n]])) for n in names}
    material = np.array([found.wires.material[p.wire] for p in found.places])
    # on the legend and in the drawing order the wires with most designs come first
    count = {str(n): int((material == n).sum()) for n in np.unique(material)}
    order = sorted(count, key=lambda n: (-count[n], n))
    colour = {n: COLOURS[min(i, len(COLOURS) - 1)] for i, n in enumerate(order)}
    pairs = list(combinations(names, 2))[:MOST_PANELS]
    parts = []
    for i, (a, b) in enumerate(pairs):
        x, y = axes[a], axes[b]
        parts.append(f'<g transform="translate({EDGE + i * (PANEL + GAP):g} {TOP:g})">')
        parts += _frame(x, y)
        parts += _points((x.at(shown[a]), y.at(shown[b])), material, order, colour)
        parts += _choices(x.at(chosen[a]), y.at(chosen[b]))
        parts.append("</g>")
    width = EDGE + len(pairs) * (PANEL + GAP) - GAP + 24
    legend, height = _legend(order, colour, len(result.winners), width)
    return _page(found.job.name, [*parts, *legend], width, height)


def _axis(name: str, values: Array) -> Axis:
    words, _, more = AXES[name]
    low, high = float(values.min()), float(values.max())
    wide = max(0.04 * np.log(high / low), 0.01)
    low, high = low / float(np.exp(wide)), high * float(np.exp(wide))
    return Axis(f"{words} ({'more' if more else 'less'} is better)", low, high, _ticks(low, high))


def _ticks(low: float, high: float) -> tuple[float, ...]:
    """Return round values: some of every decade, or even steps within a narrow span."""
    if high / low > 2.5:
        of_decade = (1, 2, 5) if high / low > 12 else (1, 1.5, 2, 3, 4, 5, 7)
        decades = range(int(np.floor(np.log10(low))), int(np.ceil(np.log10(high))) + 1)
        marks = [m * 10.0**e for e in decades for m in of_decade]
    else:
        raw = (high - low) / 6
        unit = 10.0 ** np.floor(np.log10(raw))
        step = next(m * unit for m in (1, 2, 2.5, 5, 10) if m * unit >= raw)
        marks = [float(step * n) for n in range(int(low // step), int(high // step) + 2)]
    return tuple(m for m in marks if low <= m <= high)


def _frame(x: Axis, y: Axis) -> Iterator[str]:
    yield f'<rect width="{PANEL:g}" height="{PANEL:g}" fill="#fff" stroke="{SOFT}"/>'
    for tick in x.ticks:
        at = PANEL * float(x.at(np.array(tick)))
        yield f'<path d="M{at:.1f} 0V{PANEL:g}" stroke="{GRID}"/>'
        yield f'<text x="{at:.1f}" y="{PANEL + 15:g}" text-anchor="middle">{tick:g}</text>'
    for tick in y.ticks:
        at = PANEL * (1 - float(y.at(np.array(tick))))
        yield f'<path d="M0 {at:.1f}H{PANEL:g}" stroke="{GRID}"/>'
        yield f'<text x="-6" y="{at + 4:.1f}" text-anchor="end">{tick:g}</text>'
    yield (
        f'<text x="{PANEL / 2:g}" y="{PANEL + 32:g}" text-anchor="middle" fill="{SOFT}">'
        f"{x.words}</text>"
    )
    yield (
        f'<text transform="translate(-46 {PANEL / 2:g}) rotate(-90)" text-anchor="middle" '
        f'fill="{SOFT}">{y.words}</text>'
    )


def _points(
    at: tuple[Array, Array], material: Array, order: list[str], colour: dict[str, str]
) -> Iterator[str]:
    """Yield the dots as one path per wire: a line of no length with round ends."""
    every = max(len(material) // MOST_POINTS, 1)
    for name in order:
        rows = np.flatnonzero(material == name)[::every]
        path = "".join(
            f"M{PANEL * x:.1f} {PANEL * (1 - y):.1f}h0"
            for x, y in zip(at[0][rows], at[1][rows], strict=True)
        )
        yield (
            f'<path d="{path}" stroke="{colour[name]}" stroke-width="4" stroke-linecap="round" '
            'stroke-opacity="0.55" fill="none"/>'
        )


def _choices(x: Array, y: Array) -> Iterator[str]:
    """Yield a ring on each choice, and its number where it meets neither ring nor number."""
    rings = [(float(a), float(b)) for a, b in zip(PANEL * x, PANEL * (1 - y), strict=True)]
    spots: list[tuple[float, float]] = []
    for ring in rings:
        spots.append(_free_spot(ring, [*rings, *spots]))
    for (a, b), (c, d) in zip(rings, spots, strict=True):
        yield f'<path d="M{a:.1f} {b:.1f}L{c:.1f} {d:.1f}" stroke="{SOFT}" stroke-width="0.7"/>'
    for a, b in rings:
        yield (
            f'<circle cx="{a:.1f}" cy="{b:.1f}" r="4" fill="#fff" fill-opacity="0.7" '
            f'stroke="{INK}" stroke-width="1.5"/>'
        )
    for number, (a, b) in enumerate(spots, 1):
        yield f'<circle cx="{a:.1f}" cy="{b:.1f}" r="7" fill="#fff"/>'
        yield (
            f'<text x="{a:.1f}" y="{b + 4:.1f}" font-weight="bold" text-anchor="middle">'
            f"{number}</text>"
        )


def _free_spot(ring: tuple[float, float], taken: list[tuple[float, float]]) -> tuple[float, float]:
    """Return a place near a ring, in widening circles about it, 13 away from all others."""
    for radius in (15.0, 24.0, 34.0, 45.0, 60.0):
        for turn in range(16):
            angle = np.pi / 8 * (turn - 2)
            x, y = ring[0] + radius * float(np.cos(angle)), ring[1] + radius * float(np.sin(angle))
            inside = 8 < x < PANEL - 8 and 8 < y < PANEL - 8
            if inside and all((x - a) ** 2 + (y - b) ** 2 > 13**2 for a, b in taken):
                return x, y
    return ring[0], ring[1] - 15


def _legend(
    order: list[str], colour: dict[str, str], choices: int, width: float
) -> tuple[list[str], float]:
    """Return the legend in rows under the panels, and where it ends."""
    # wires beyond the palette share its last colour and one entry
    own, rest = order[: len(COLOURS) - 1], order[len(COLOURS) - 1 :]
    names = [(n, colour[n]) for n in own]
    if rest:
        names.append((rest[0] if len(rest) == 1 else f"{len(rest)} other wires", COLOURS[-1]))
    parts, x, y = [], EDGE, TOP + PANEL + 60
    for name, paint in [*names, *([(f"choices 1 to {choices}", "")] if choices else [])]:
        wide = 20 + 7.0 * len(name)
        if x + wide > width and x > EDGE:
            x, y = EDGE, y + LINE
        mark = (
            f'<circle cx="{x + 5:g}" cy="{y - 4:g}" r="4" fill="{paint}"/>'
            if paint
            else f'<circle cx="{x + 5:g}" cy="{y - 4:g}" r="4.5" fill="none" stroke="{INK}" '
            'stroke-width="1.6"/>'
        )
        parts.append(f'{mark}<text x="{x + 14:g}" y="{y:g}">{name}</text>')
        x += wide
    return parts, y + 14


def _page(title: str, parts: list[str], width: float, height: float) -> str:
    most = int((width - EDGE) / 8)
    short = title if len(title) <= most else title[: most - 1] + "…"
    if len(title + SUBJECT) <= most:
        short += SUBJECT
    words, heading = (x.replace("&", "&amp;").replace("<", "&lt;") for x in (title, short))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:g}" height="{height:g}" '
        f'viewBox="0 0 {width:g} {height:g}" font-family="sans-serif" font-size="11" '
        f'fill="{INK}"><title>{words}: the front</title>'
        f'<rect width="{width:g}" height="{height:g}" fill="#fff"/>'
        f'<text x="{EDGE:g}" y="26" font-size="15">{heading}</text>'
        f"{''.join(parts)}</svg>\n"
    )

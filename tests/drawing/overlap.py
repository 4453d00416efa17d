"""Random springs on every sheet: no text on another, on the frame, on the spring or off the sheet.

Nor does a dimension stand nearer to the view than a shorter one that it spans, a diameter at
another view, or a line of a dimension at the frame.

``python -m tests.drawing.overlap [COUNT] [SEED]`` runs COUNT (300) springs, each on every paper, in
every language and in every choice of units, and exits with 1 if anything collides. Texts are
measured with fontTools, the program with another library's metrics.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Iterable, Iterator
from functools import cache
from itertools import permutations, product
from typing import Any

import numpy as np

from springgeo import Spring
from springgeo.drawing import PAPERS, Paper, sheets
from springgeo.drawing.arrows import drawn, flatten
from springgeo.drawing.maker_page import maker_pages
from springgeo.drawing.page import Page, Text
from springgeo.ends import registry
from springgeo.ends.protocol import BodyEnd
from springgeo.errors import SpringgeoError
from springgeo.making import maker_data
from springgeo.materials import names
from springgeo.optional import need
from springgeo.text.quantity import SYSTEMS
from springgeo.text.shown import LANGUAGES, Shown

Box = tuple[float, float, float, float]
# lines that no text may stand on
_SOLID = ("OUTLINE", "FITTING", "FRAME", "TITLE", "DATA", "MARK", "DIAGRAM")
# how much of a box may be shared: the sides of letters, and what hangs below the line
_SLACK = 0.15
# what the frame keeps free, mm
_AIR = 0.5
# how near to it the line of a dimension may come, mm
_NEAR = 0.4
_NONE = np.empty((0, 2))
# each language with each units, alone and with the other in brackets
UNITS = [(SYSTEMS[0], None), (SYSTEMS[1], None), SYSTEMS, SYSTEMS[::-1]]
READERS = [Shown(u, lang, v, typeset=True) for lang, (u, v) in product(LANGUAGES, UNITS)]


@cache
def _font() -> tuple[Any, Any, float]:
    import matplotlib.font_manager
    from fontTools.ttLib import TTFont

    font = TTFont(matplotlib.font_manager.findfont("DejaVu Sans"))
    return font.getBestCmap(), font["hmtx"], font["glyf"]["H"].yMax


def box_of(text: Text) -> Box:
    """Return left, bottom, right, top of a text's capitals, mm."""
    letters, widths, capital = _font()
    w = text.height / capital * sum(widths[letters[ord(c)]][0] for c in text.text)
    x, y = text.at
    start = {"left": 0.0, "center": -w / 2, "right": -w}[text.across]
    if text.turned:
        return x - text.height + _SLACK, y + start + _SLACK, x - _SLACK, y + start + w - _SLACK
    return x + start + _SLACK, y + _SLACK, x + start + w - _SLACK, y + text.height - _SLACK


def collisions(page: Page) -> Iterator[str]:
    """Yield what collides on a sheet."""
    shapely = need("shapely", "a drawing", "drawing")
    lines, texts = flatten(page)
    texts = [t for t in texts if t.text]
    boxes = [box_of(t) for t in texts]
    low, high = (20.0, 8.0), (page.width - 8.0, page.height - 8.0)
    for t, b in zip(texts, boxes, strict=True):
        if b[0] < low[0] or b[1] < low[1] or b[2] > high[0] or b[3] > high[1]:
            yield f"off the frame: {t.text!r}"
    edges = np.array(boxes)
    for i, b in enumerate(boxes):
        hit = (
            (edges[i + 1 :, 0] < b[2])
            & (edges[i + 1 :, 2] > b[0])
            & (edges[i + 1 :, 1] < b[3])
            & (edges[i + 1 :, 3] > b[1])
        )
        for j in np.flatnonzero(hit):
            yield f"{texts[i].text!r} on {texts[i + 1 + j].text!r}"
    for layers, air in ((_SOLID, 0.0), (("FRAME",), _AIR)):
        solid = [x.points for x in lines if x.layer in layers]
        pairs = slice(0, -1), slice(1, None)
        ends = [np.concatenate([p[s] for p in solid] or [_NONE]) for s in pairs]
        tree = shapely.STRtree(shapely.linestrings(np.stack(ends, axis=1)))
        out = air - 1e-9
        left, bottom, right, top = edges.T
        grown = shapely.box(left - out, bottom - out, right + out, top + out)
        for i in np.unique(tree.query(grown, predicate="intersects")[0]).tolist():
            yield f"a line {'near' if air else 'through'} {texts[i].text!r}"


def disorder(page: Page) -> Iterator[str]:
    """Yield dimensions that stand nearer to a view than a shorter one that they span."""
    for long, short in permutations(page.linear, 2):
        along, across = (1, 0) if long.upright else (0, 1)
        out = [d.base[across] - d.start[across] for d in (long, short)]
        (a, b), (low, high) = ((d.start[along], d.end[along]) for d in (long, short))
        beside = long.start[across] == short.start[across] and out[0] * out[1] > 0
        spans = long.upright == short.upright and a <= low < high <= b and b - a > high - low
        if beside and spans and abs(out[0]) < abs(out[1]) + 4.0:
            yield f"{long.text!r} no further out than {short.text!r}"


def astray(page: Page) -> Iterator[str]:
    """Yield diameters that stand at another view, and dimensions whose lines reach the frame."""
    letters = [t.at for t in page.texts if t.layer == "DIMENSION" and t.text in ("1", "2")]
    for dim in page.linear:
        left, right = sorted((dim.start[0], dim.base[0]))
        low, high = sorted((dim.start[1], dim.end[1]))
        if dim.upright and any(left < x < right and low < y < high for x, y in letters):
            yield f"{dim.text!r} stands beyond the letter of an end"
    frames = [x.points for x in page.lines if x.layer == "FRAME"]
    edges = np.concatenate([np.stack([p[:-1], p[1:]], axis=1) for p in frames])
    low_edge, high_edge = edges.min(axis=1) - _NEAR, edges.max(axis=1) + _NEAR
    for dim in page.linear:
        for line in drawn(dim):
            a, b = line.points.min(axis=0), line.points.max(axis=0)
            if ((a < high_edge) & (b > low_edge)).all(axis=1).any():
                yield f"a line of {dim.text!r} reaches the frame"


def random_spec(draw: random.Random) -> dict[str, Any]:
    """Return a specification from the corners of what is accepted: long names, many loads."""
    d = 10 ** draw.uniform(-0.7, 1.0)
    index = draw.uniform(4.2, 16)
    mean = index * d
    body = {
        draw.choice(["mean_diameter", "outer_diameter"]): mean,
        "coils": draw.choice([draw.uniform(3, 30), draw.uniform(30, 400)]),
        "hand": draw.choice(["right", "left"]),
    }
    if draw.random() < 0.2:
        body["pitch"] = d * draw.uniform(1.1, 2.0)
    words = ("return", "spring", "of", "the", "sluice", "gate", "Federöse", "x" * 60)
    ends: dict[str, Any] = {s: _end(draw, d, mean) for s in ("first", "second")}
    if draw.random() < 0.4:
        ends["facing"] = draw.uniform(0, 360)
    force = 0.15 * 1500 * d**3 / mean
    spec = {
        "name": " ".join(draw.choice(words) for _ in range(draw.randint(1, 9)))[:190].strip(),
        "wire": {"material": draw.choice(sorted(names())), "diameter": d},
        "body": body,
        "ends": ends,
        "service": {
            "loads": sorted(force * draw.uniform(0.8, 4) for _ in range(draw.randint(0, 9)))
        },
    }
    if draw.random() < 0.5:
        keys = ("number", "revision", "company", "drawn", "checked", "date")
        spec["drawing"] = {k: "W" * draw.randint(1, 60) for k in keys}
        spec["making"] = {"finish": "zinc and " * draw.randint(1, 8) + "oil"}
    return spec


def _end(draw: random.Random, d: float, mean: float) -> dict[str, Any]:
    style = draw.choice(sorted(registry.styles()))
    spans = registry.get(style).ranges(BodyEnd(d, mean / 2, 1.002 * d))
    sizes = {k: draw.uniform(*v) for k, v in spans.items() if draw.random() < 0.5}
    return {"style": style, **sizes}


def springs(count: int, seed: int) -> Iterator[Spring]:
    """Yield random springs that can be made."""
    draw = random.Random(seed)
    found = 0
    while found < count:
        try:
            spring = Spring.from_dict(random_spec(draw))
            spring.summary()
        except SpringgeoError:
            continue
        found += 1
        yield spring


def all_sheets(
    spring: Spring, paper: Paper, readers: Iterable[Shown] = READERS[:1]
) -> Iterator[tuple[Shown, int, Page]]:
    """Yield the drawing's sheets and the maker's, numbered, for every reader."""
    args = spring.model, spring.summary()
    data = maker_data(*args, PAPERS[paper].trade)
    for shown in readers:
        pages = [*sheets(*args, paper, shown), *maker_pages(*args, data, paper, shown)]
        for n, page in enumerate(pages, 1):
            yield shown, n, page


def of_spring(spring: Spring) -> Iterator[str]:
    """Yield what collides on any sheet of a spring, or stands in disorder, with where."""
    for paper in PAPERS:
        for shown, n, page in all_sheets(spring, paper, READERS):
            where = f"{paper} {shown.language} {shown.units} {shown.second or ''} sheet {n}"
            for words in (*collisions(page), *disorder(page), *astray(page)):
                yield f"{where}: {words}"


def main(count: int = 300, seed: int = 1) -> int:
    """Draw springs and print what collides."""
    bad = 0
    for k, spring in enumerate(springs(count, seed)):
        for words in of_spring(spring):
            bad += 1
            sys.stdout.write(f"{k} {words}\n")
        sys.stdout.flush()
    kinds = f"{len(PAPERS)} papers, {len(READERS)} readers"
    sys.stdout.write(f"{count} springs, {kinds}: {bad} collisions\n")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:])))

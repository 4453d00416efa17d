"""Draws the house: every room of the package with its size, and who imports whom.

Run ``python gallery/house.py``; it writes ``house.png`` beside itself and fails if an import points
up or if rooms import each other in a circle.
"""

from __future__ import annotations

import ast
from collections import defaultdict
from itertools import accumulate, pairwise
from pathlib import Path

import matplotlib as mpl

mpl.use("Agg")
import matplotlib.pyplot as plt
from matplotlib.patches import FancyBboxPatch

HERE = Path(__file__).parent
PACKAGE = HERE.parent / "springgeo"
WIDTH, PASS, STEP, HEIGHT = 2.3, 0.35, 1.75, 0.8
INK, ROOM, EDGE, FAINT = "#22303c", "#f4efe6", "#8a6d3b", "#9aa5ae"


def rooms() -> dict[str, int]:
    """Return the lines of Python in each room."""
    lines: dict[str, int] = defaultdict(int)
    for file in PACKAGE.rglob("*.py"):
        name = file.relative_to(PACKAGE).parts[0].removesuffix(".py")
        if not name.startswith("__"):
            lines[name] += len(file.read_text(encoding="utf-8").splitlines())
    return dict(lines)


def imports(names: set[str]) -> set[tuple[str, str]]:
    """Return every pair (importer, imported) of rooms."""
    found = set()
    for file in PACKAGE.rglob("*.py"):
        own = file.relative_to(PACKAGE).parts[0].removesuffix(".py")
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and node.module == "springgeo":
                targets = [alias.name for alias in node.names]
            elif isinstance(node, ast.ImportFrom) and (node.module or "").startswith("springgeo."):
                targets = [(node.module or "").split(".")[1]]
            else:
                continue
            found |= {(own, t) for t in targets if own in names and t in names and t != own}
    return found


def floors(names: set[str], arrows: set[tuple[str, str]]) -> dict[str, int]:
    """Return each room's floor: one above the highest it imports; raises on a circle."""
    level: dict[str, int] = {}
    while len(level) < len(names):
        ready = [n for n in names - level.keys() if all(t in level for f, t in arrows if f == n)]
        if not ready:
            raise SystemExit(f"rooms import each other in a circle: {sorted(names - level.keys())}")
        for name in ready:
            level[name] = max((level[t] + 1 for f, t in arrows if f == name), default=0)
    return level


def needed(arrows: set[tuple[str, str]], level: dict[str, int]) -> set[tuple[str, str]]:
    """Return the arrows that no chain of others implies: the ones worth drawing."""
    below: dict[str, set[str]] = {}
    for name in sorted(level, key=level.__getitem__):
        direct = {t for f, t in arrows if f == name}
        below[name] = direct.union(*(below[t] for t in direct))
    return {
        (f, t)
        for f, t in arrows
        if not any(t in below[other] for g, other in arrows if g == f and other != t)
    }


def rows(names: set[str], level: dict[str, int], shown: set[tuple[str, str]]) -> list[list[str]]:
    """Return what stands on each floor, rooms and the arrows that pass by (``from>to``), in order.

    Each is moved to the mean of what it is tied to, upward and downward in turn (Sugiyama).
    """
    floor: list[list[str]] = [[] for _ in range(max(level.values()) + 1)]
    ties: dict[str, list[str]] = defaultdict(list)
    for name in sorted(names):
        floor[level[name]].append(name)
    for f, t in sorted(shown):
        way = [t, *(f"{f}>{t}@{k}" for k in range(level[t] + 1, level[f])), f]
        for k, name in enumerate(way[1:-1], level[t] + 1):
            floor[k].append(name)
        for low, high in pairwise(way):
            ties[low].append(high)
            ties[high].append(low)
    for turn in range(24):
        for k in range(len(floor)) if turn % 2 == 0 else reversed(range(len(floor))):
            at = {n: x for row in floor for n, x in zip(row, across(row), strict=True)}
            floor[k].sort(
                key=lambda n: sum(at[m] for m in ties[n]) / len(ties[n]) if ties[n] else at[n]
            )
    return floor


def across(row: list[str]) -> list[float]:
    """Return where each in a row stands, rooms wide and passing arrows narrow, about zero."""
    wide = [PASS if ">" in name else WIDTH for name in row]
    ends = list(accumulate(wide))
    return [end - w / 2 - ends[-1] / 2 for end, w in zip(ends, wide, strict=True)]


def draw() -> Path:
    """Write the picture and return its path."""
    lines = rooms()
    arrows = imports(set(lines))
    level = floors(set(lines), arrows)
    shown = needed(arrows, level)
    place: dict[str, tuple[float, float]] = {}
    passing: dict[str, tuple[float, float]] = {}
    for k, row in enumerate(rows(set(lines), level, shown)):
        for name, x in zip(row, across(row), strict=True):
            (passing if ">" in name else place)[name] = (x, k * STEP)
    width = max(abs(x) for x, _ in [*place.values(), *passing.values()]) * 2 + WIDTH
    figure, axes = plt.subplots(figsize=(width * 0.8, (max(level.values()) + 1) * STEP * 0.8))
    for f, t in sorted(shown):
        # straight down past the rooms of each floor between, from one gap to the next
        by = [passing[f"{f}>{t}@{k}"] for k in range(level[f] - 1, level[t], -1)]
        (x, y), (u, v) = place[f], place[t]
        way = [(x, y - HEIGHT / 2)]
        for a, h in by:
            way += [(a, h + HEIGHT / 2), (a, h - HEIGHT / 2)]
        axes.plot(*zip(*way, strict=True), color=FAINT, lw=1, zorder=1)
        axes.annotate(
            "",
            xy=(u, v + HEIGHT / 2),
            xytext=way[-1],
            arrowprops={"arrowstyle": "->", "color": FAINT, "lw": 1, "shrinkA": 0, "shrinkB": 2},
            zorder=1,
        )
    for name, (x, y) in place.items():
        box = FancyBboxPatch(
            (x - 1.0, y - HEIGHT / 2),
            2.0,
            HEIGHT,
            boxstyle="round,pad=0,rounding_size=0.08",
            facecolor=ROOM,
            edgecolor=EDGE,
            zorder=2,
        )
        axes.add_patch(box)
        axes.text(x, y + 0.1, name, ha="center", va="center", color=INK, fontsize=11, zorder=3)
        axes.text(
            x,
            y - 0.22,
            f"{lines[name]} lines",
            ha="center",
            va="center",
            color=EDGE,
            fontsize=7.5,
            zorder=3,
        )
    axes.set_xlim(-width / 2, width / 2)
    axes.set_ylim(-STEP / 2, max(level.values()) * STEP + STEP / 2)
    axes.set_axis_off()
    axes.set_title(
        "springgeo: a room imports only from rooms below it; arrows that others imply are left out",
        fontsize=11,
        color=INK,
    )
    out = HERE / "house.png"
    figure.savefig(
        out, dpi=110, bbox_inches="tight", facecolor="white", metadata={"Software": None}
    )
    plt.close(figure)
    return out


if __name__ == "__main__":
    print(draw())

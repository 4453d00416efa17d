"""Draws the house: every room of the package with its size, and who imports whom.

Run ``python gallery/house.py``; it writes ``house.png`` beside itself and fails if an import points
up or if rooms import each other in a circle.
"""

from __future__ import annotations

import ast
from collections import defaultdict
from pathlib import Path

import matplotlib as mpl

mpl.use("Agg")
import matplotlib.pyplot as plt
from matplotlib.patches import FancyBboxPatch

HERE = Path(__file__).parent
PACKAGE = HERE.parent / "springgeo"
WIDTH, STEP, HEIGHT = 2.3, 1.55, 0.8
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


def draw() -> Path:
    """Write the picture and return its path."""
    lines = rooms()
    arrows = imports(set(lines))
    level = floors(set(lines), arrows)
    shown = needed(arrows, level)
    place: dict[str, tuple[float, float]] = {}
    for floor in range(max(level.values()) + 1):
        row = [n for n in lines if level[n] == floor]
        under = {
            n: [place[t][0] for f, t in shown if f == n]
            or [place[t][0] for f, t in arrows if f == n]
            for n in row
        }
        row.sort(key=lambda n: (sum(under[n]) / len(under[n]) if under[n] else 0.0, n))
        for i, name in enumerate(row):
            place[name] = ((i - (len(row) - 1) / 2) * WIDTH, floor * STEP)
    width = max(abs(x) for x, _ in place.values()) * 2 + WIDTH
    figure, axes = plt.subplots(figsize=(width * 0.8, (max(level.values()) + 1) * STEP * 0.8))
    for f, t in sorted(shown):
        (x, y), (u, v) = place[f], place[t]
        axes.annotate(
            "",
            xy=(u, v + HEIGHT / 2),
            xytext=(x, y - HEIGHT / 2),
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

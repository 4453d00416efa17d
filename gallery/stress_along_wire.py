"""Stress along the wire of a spring: where body, bends and loops truly carry what.

Run ``python gallery/stress_along_wire.py`` (needs matplotlib); options: preset, ``--load``,
``--out``. Shown over arc length from contact to contact, with the handbook's two hook values.
"""

from __future__ import annotations

import argparse
from pathlib import Path as File
from typing import Any

import matplotlib as mpl
import numpy as np

mpl.use("Agg")
import matplotlib.pyplot as plt
from matplotlib.ticker import MaxNLocator

from springgeo import Spring
from springgeo.plots.stress_along_wire import BANDS, CURVES, runs
from springgeo.summary.handbook import Handbook

STRAIGHT = ("straight", "#FFFFFF")


def check(spring: Spring, columns: dict[str, Any], load: float) -> None:
    """Assert what statics says whatever the shape of the hooks: mid-body torque and stress."""
    g = spring.model.geometry
    middle = int(np.argmin(np.abs(columns["s"] - g.path.length / 2)))
    lead = np.arctan2(g.pitch, 2 * np.pi * g.radius)
    torque = load * g.radius * np.cos(lead)
    assert abs(abs(columns["T"][middle]) / torque - 1) < 1e-6, "torque of the body is not F R"
    book = Handbook(spring.model).body_shear(load)
    assert abs(columns["max_shear"][middle] / book - 1) < 0.01, "body is not at Bergsträsser"
    von_mises, shear = columns["von_mises"], columns["max_shear"]
    assert np.all(von_mises >= np.sqrt(3) * shear * (1 - 1e-3)), "von Mises below √3 τ"


def draw(name: str, load: float | None, out: File) -> None:
    """Draw one preset at a load (its highest if None) into a PNG."""
    spring = Spring.from_preset(name)
    load = max(p.load for p in spring.summary().points) if load is None else load
    columns = spring.stress(load)
    check(spring, columns, load)
    s, region = columns["s"], columns["region"]
    parts = runs(region)
    d = spring.model.geometry.diameter
    # the hooks are short beside the body: each gets its own panel, at one scale
    body = max((r for r in parts if r[0] == "body"), key=lambda r: s[r[2]] - s[r[1]])
    low, high = s[body[1]] + 2 * d, s[body[2]] - 2 * d
    spans = [(s[0], low), ((low + high) / 2 - 2 * d, (low + high) / 2 + 2 * d), (high, s[-1])]
    widest = max(b - a for a, b in spans)
    fig, axes = plt.subplots(
        1,
        3,
        sharey=True,
        figsize=(11, 4.8),
        dpi=130,
        layout="constrained",
        width_ratios=[b - a for a, b in spans],
    )
    titles = ("hook at the first end", "mid-body", "hook at the second end")
    book = Handbook(spring.model).point(load)
    lines = (
        (book.hook_bending_a, "handbook, hook bending", "#D55E00"),
        (book.hook_torsion_b, "handbook, hook torsion", "#0072B2"),
    )
    for ax, (a, b), title in zip(axes, spans, titles, strict=True):
        for kind, i, j in parts:
            if kind in BANDS and s[i] < b and s[j] > a:
                ax.axvspan(
                    max(s[i], a),
                    min(s[min(j + 1, len(s) - 1)], b),
                    color=BANDS[kind][1],
                    lw=0,
                    zorder=0,
                )
        for key, label, colour, style in CURVES:
            ax.plot(s, columns[key], style, color=colour, lw=2, label=label)
        for value, label, colour in lines:
            if value is not None:
                ax.axhline(value, color=colour, ls=(0, (6, 3)), lw=1.2, label=label)
        ax.set_xlim(a, b)
        ax.set_title(title, fontsize=10)
        ax.spines[["top", "right"]].set_visible(False)
        ax.xaxis.set_major_locator(MaxNLocator(max(2, round(8 * (b - a) / widest)), integer=True))
    for ax, (a, b) in zip(axes, spans, strict=True):
        for kind, i, j in parts:
            left, right = max(s[i], a), min(s[j], b)
            if right - left > 1.2 * d:
                ax.annotate(
                    BANDS.get(kind, STRAIGHT)[0],
                    ((left + right) / 2, 0.985),
                    fontsize=8.5,
                    color="#444444",
                    xycoords=("data", "axes fraction"),
                    ha="center",
                    va="top",
                )
    axes[0].set_ylim(0, 1.16 * max(float(columns["von_mises"].max()), *(v or 0 for v, *_ in lines)))
    axes[0].set_ylabel("stress, MPa")
    axes[1].set_xlabel(
        "arc length along the wire, mm (body cut short; hook torsion includes 1.5 d of coil)"
    )
    handles, labels = axes[0].get_legend_handles_labels()
    fig.legend(handles, labels, loc="outside lower center", ncols=5, frameon=False, fontsize=9)
    fig.suptitle(f"{spring.spec.name} at {load:g} N: stress on the wire's surface", fontsize=12)
    fig.savefig(out)
    plt.close(fig)


def main() -> None:
    """Draw."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("preset", nargs="?", default="gate-latch")
    parser.add_argument("--load", type=float, help="N; the preset's highest if left out")
    parser.add_argument("--out", type=File, default=File(__file__).with_suffix(".png"))
    o = parser.parse_args()
    draw(o.preset, o.load, o.out)
    print(o.out)


if __name__ == "__main__":
    main()

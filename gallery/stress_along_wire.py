"""Stress along the wire of a spring: where body, bends and loops truly carry what.

Run ``python gallery/stress_along_wire.py`` (needs matplotlib); options: preset, ``--load``,
``--out``. Shown over arc length from contact to contact, with the handbook's two hook values.
"""

from __future__ import annotations

import argparse
from dataclasses import replace
from pathlib import Path as File

import matplotlib as mpl
import numpy as np

mpl.use("Agg")
import matplotlib.pyplot as plt
from shown import note

from springgeo import Spring
from springgeo.chart import Chart
from springgeo.chart.mpl import draw as draw_chart
from springgeo.plots.stress_along_wire import Stresses
from springgeo.statics.profile import StressProfile
from springgeo.summary.handbook import Handbook
from springgeo.text.shown import Shown

READER = Shown(typeset=True)


def check(spring: Spring, along: StressProfile, load: float) -> None:
    """Assert what statics says whatever the shape of the hooks: mid-body torque and stress."""
    g = spring.model.geometry
    middle = int(np.argmin(np.abs(along.s - g.path.length / 2)))
    lead = np.arctan2(g.pitch, 2 * np.pi * g.coil_radius)
    torque = load * g.coil_radius * np.cos(lead)
    # coils close in a little as they open
    assert abs(abs(along.T[middle]) / torque - 1) < 0.02, "torque of the body is not F R"
    book = Handbook(spring.model).body_shear(load)
    assert abs(along.max_shear[middle] / book - 1) < 0.03, "body is not at Bergsträsser"
    von_mises, shear = along.von_mises, along.max_shear
    assert np.all(von_mises >= np.sqrt(3) * shear * (1 - 1e-3)), "von Mises below √3 τ"


def draw(name: str, load: float | None, out: File) -> None:
    """Draw one preset at a load (its highest if None) into a PNG."""
    spring = Spring.from_preset(name)
    load = max(p.load for p in spring.summary().points) if load is None else load
    check(spring, spring.stress(load), load)
    stresses = Stresses(spring.summary(), spring.along_the_wire.at(load))
    panels = [(heading, shortened(chart).shown(READER)) for heading, chart in stresses.panels()]
    # the hooks are short beside the body: each gets its own panel, at one scale
    figure, axes = plt.subplots(
        1,
        len(panels),
        sharey=True,
        figsize=(12, 4.8),
        layout="constrained",
        width_ratios=[chart.x.high - chart.x.low for _, chart in panels],
    )
    for ax, (heading, chart) in zip(np.atleast_1d(axes), panels, strict=True):
        words = "arc length along the wire" if chart.name == "stress-body" else ""
        unit = chart.x.unit if words else ""
        shown = replace(chart, title=heading, x=replace(chart.x, words=words, unit=unit))
        draw_chart(shown, ax, legend=False)
        ax.label_outer()
    named = [ax.get_legend_handles_labels() for ax in figure.axes]
    handles = {k: h for pair in named for h, k in zip(*pair, strict=True)}
    figure.legend(
        handles.values(), handles, loc="outside lower center", ncols=4, frameon=False, fontsize=9
    )
    figure.suptitle(f"{spring.spec.name} at {load:g} N: stress on the wire's surface", fontsize=12)
    figure.savefig(out, dpi=130, metadata={"Software": None})
    note(out, spring)
    plt.close(figure)


def shortened(chart: Chart) -> Chart:
    """Return a panel of at most 12 mm of wire, from its middle."""
    middle, half = (chart.x.low + chart.x.high) / 2, 6.0
    if chart.name != "stress-body" or chart.x.high - chart.x.low <= 2 * half:
        return chart
    return replace(chart, x=replace(chart.x, low=middle - half, high=middle + half))


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

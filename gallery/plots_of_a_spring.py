"""Four plots of one spring by `springgeo.plots`: load line, stress, tension, fatigue."""

from __future__ import annotations

from pathlib import Path

import matplotlib as mpl

mpl.use("Agg")
import matplotlib.pyplot as plt
from shown import note

from springgeo import Spring, plots

SPEC = {
    "name": "damper return spring",
    "wire": {"material": "astm-a228", "diameter": 1.2},
    "body": {"mean_diameter": 9.6, "coils": 18.5, "initial_tension": 7},
    "ends": {"first": {"style": "full-twisted-loop"}, "second": {"style": "machine-half-loop"}},
    "service": {"loads": [15, 25], "duty": "infinite"},
}


def main(out: Path | None = None) -> None:
    spring = Spring.from_dict(SPEC)
    figure, axes = plt.subplots(2, 2, figsize=(13, 8.6), layout="constrained")
    plots.load_length(spring, axes[0, 0])
    plots.stress_along_wire(spring, ax=axes[0, 1])
    plots.initial_tension(spring, axes[1, 0])
    plots.fatigue(spring, axes[1, 1])
    # the drawn curve ends where the spring is, whatever the plot does with it
    (line,) = [x for x in axes[0, 0].get_lines() if str(x.get_label()) == "load curve"]
    x, y = line.get_data()
    assert abs(spring.at(length=x[-1]).load / y[-1] - 1) < 1e-6
    out = out or Path(__file__).with_suffix(".png")
    figure.savefig(out, dpi=100, metadata={"Software": None})
    note(out, spring)
    plt.close(figure)


if __name__ == "__main__":
    main()

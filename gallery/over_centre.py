"""A return spring that snaps a lever over its dead centre.

Run ``python gallery/over_centre.py``: draws four poses with the spring's true centreline, torque
and stored energy over the lever's angle, into ``over_centre.png`` beside this file.
"""

from __future__ import annotations

from pathlib import Path

import matplotlib as mpl
import numpy as np

mpl.use("Agg")
import matplotlib.pyplot as plt
from shown import note

from springgeo import Spring
from springgeo.colours import SERIES
from springgeo.fit.mechanism import Lever, Motion, dead_centres, run

PIN = 5.0
PIVOT, FIXED = (0.0, 0.0), (0.0, -26.0)
LEVER = Lever(PIVOT, 24.0, np.radians(35), np.radians(145))


def spring() -> Spring:
    return Spring.from_dict(
        {
            "name": "over-centre spring",
            "wire": {"material": "astm-a228", "diameter": 1.2},
            "body": {"mean_diameter": 9.6, "coils": 15, "initial_tension": 7},
            "ends": {
                "first": {"style": "machine-half-loop"},
                "second": {"style": "machine-half-loop"},
                "angle": 0,
            },
            "service": {"loads": [15, 30]},
        }
    )


def motion(made: Spring) -> Motion:
    return run(made.load_curve, FIXED, LEVER, pins=(PIN, PIN), stations=2201)


def check(m: Motion) -> None:
    # the torque is the slope of the stored energy, and nothing at the dead centre
    slope = -np.gradient(m.energy, m.drive, edge_order=2)
    assert np.abs(slope - m.effort).max() < 1e-4 * np.abs(m.effort).max()
    (centre,) = dead_centres(FIXED, LEVER)
    assert abs(np.interp(centre, m.drive, m.effort)) < 1e-6 * np.abs(m.effort).max()
    assert m.length[np.argmin(np.abs(m.drive - centre))] == m.length.max()


def draw_pose(ax: plt.Axes, made: Spring, m: Motion, i: int) -> None:
    state = made.at(length=float(m.length[i]))
    points = state.centreline.sample(0.3).point @ m.rotation[i].T + m.translation[i]
    _, place, _ = LEVER.at(np.array([i / (len(m.drive) - 1)]))
    ax.plot(
        *np.array([PIVOT, place[0]]).T, color=SERIES[0], lw=7, alpha=0.5, solid_capstyle="round"
    )
    for x, y in (FIXED, place[0]):
        ax.add_patch(plt.Circle((x, y), PIN / 2, color=SERIES[5]))
    ax.plot(*PIVOT, "ko", ms=6)
    ax.plot(points[:, 0], points[:, 1], color=SERIES[6], lw=1.4)
    ax.set(aspect="equal", xlim=(-32, 32), ylim=(-36, 32), xticks=[], yticks=[])
    ax.set_title(
        f"{np.degrees(m.drive[i]):.0f}°: {state.length:.1f} mm, {m.load[i]:.1f} N", fontsize=9
    )


def main() -> None:
    made = spring()
    m = motion(made)
    check(m)
    fig, grid = plt.subplot_mosaic("abcd;tttt", figsize=(11, 6.5), layout="constrained")
    for name, share in zip("abcd", (0.0, 0.3, 0.5, 1.0), strict=True):
        draw_pose(grid[name], made, m, int(share * (len(m.drive) - 1)))
    ax, degrees = grid["t"], np.degrees(m.drive)
    ax.plot(degrees, m.effort / 1000, color=SERIES[0], label="torque about the pivot, N m")
    slope = -np.gradient(m.energy, m.drive)[::100] / 1000
    ax.plot(degrees[::100], slope, "o", color=SERIES[1], ms=4, label="−dE/dangle")
    ax.axhline(0, color="0.7", lw=0.8)
    ax.axvline(90, color="0.7", lw=0.8, ls="--")
    ax.set(xlabel="lever angle, deg", ylabel="torque, N m")
    twin = ax.twinx()
    twin.plot(degrees, m.energy / 1000, color=SERIES[2], ls=":", label="stored energy, J")
    twin.set_ylabel("stored energy, J")
    ax.legend(loc="upper left")
    twin.legend(loc="lower center")
    target = Path(__file__).with_suffix(".png")
    fig.savefig(target, dpi=110, metadata={"Software": None})
    note(target, made)
    print(f"wrote {target.name}: peak torque {np.abs(m.effort).max() / 1000:.3f} N m")


if __name__ == "__main__":
    main()

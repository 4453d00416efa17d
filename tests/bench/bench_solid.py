"""Builds 100 coils with two hooks and writes them, against the kernel's plain sweep of the coils.

Run as ``python tests/bench/bench_solid.py``; prints both and fails where the tube here is slower
than the sweep, or its surface not a hundred times nearer to the exact tube.
"""

from __future__ import annotations

import math
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path as File

import cadquery as cq
import numpy as np

from springgeo.curve import Arc, CylinderBend, Helix, Line, Path, Piece
from springgeo.curve.frame import FLIP, rotation_z
from springgeo.files.step.session import quiet_kernel
from springgeo.files.step.write import StepPart, write_step
from springgeo.solid import surface_deviation, tube_properties, tube_solid

COILS, D, d = 100, 8.0, 1.0
PITCH = 1.003 * d


def body() -> Path:
    return Path([Piece(Helix(radius=D / 2, pitch=PITCH, turns=COILS), "body", "body")])


def spring() -> Path:
    coil = body()
    lead = math.atan2(PITCH, math.pi * D)
    bend = CylinderBend(radius=D / 2, bend_radius=2 * d, start=lead, end=math.pi / 2)
    top = bend.point(np.array([bend.length]))[0]
    leg = Line.between(top, top + np.array([0.0, 0.0, 0.7 * d]))
    start = leg.point(np.array([leg.length]))[0]
    loop = Arc.leaving(start, np.array([0.0, 0.0, 1.0]), -top * [1, 1, 0], D / 2, 0.9 * math.pi)
    hook = Path(
        [Piece(bend, "bend", "bend"), Piece(leg, "leg", "straight"), Piece(loop, "loop", "loop")]
    )
    high = hook.moved(rotation_z(2 * math.pi * COILS), np.array([0.0, 0.0, COILS * PITCH]))
    low = hook.moved(FLIP, np.zeros(3)).reversed()
    return Path([*low.pieces, *coil.pieces, *high.pieces])


def swept() -> cq.Workplane:
    wire = cq.Wire.makeHelix(PITCH, PITCH * COILS, D / 2)
    profile = cq.Workplane("XZ").center(D / 2, 0).circle(d / 2)
    return profile.sweep(cq.Workplane(wire), isFrenet=True)


def best(*calls: Callable[[], object], times: int = 7) -> list[float]:
    """Return the least time of each, s, taken in turn so that a busy machine is fair to all."""
    took: list[list[float]] = [[] for _ in calls]
    for _ in range(times):
        for call, times_of_it in zip(calls, took, strict=True):
            start = time.perf_counter()
            call()
            times_of_it.append(time.perf_counter() - start)
    return [min(t) for t in took]


def main() -> int:
    path = spring()
    with tempfile.TemporaryDirectory() as folder:
        ours_file, theirs_file = File(folder) / "tube.step", File(folder) / "sweep.step"

        def ours() -> None:
            part = StepPart(
                "wire", tube_solid(path, d / 2), properties=tube_properties(path, d / 2)
            )
            write_step(ours_file, [part], product="bench", description="", attributes={})

        def theirs() -> None:
            cq.exporters.export(swept(), str(theirs_file))

        with quiet_kernel():
            here, sweep, sweep_only = best(ours, theirs, swept)
        sizes = [f.stat().st_size / 1e6 for f in (ours_file, theirs_file)]
    error = surface_deviation(tube_solid(path, d / 2), path, d / 2) / d
    sweep_error = surface_deviation(swept().val().wrapped, body(), d / 2, 2000) / d
    print(f"{COILS} coils, C = {D / d:g}")
    print(f"tube with two hooks: built and written in {here:.3f} s, {sizes[0]:.2f} MB")
    print(f"plain sweep, coils:  built and written in {sweep:.3f} s, {sizes[1]:.2f} MB")
    print(f"                     built in {sweep_only:.3f} s")
    print(f"time ratio {here / sweep:.2f}")
    print(f"surface error {error:.2e} d against {sweep_error:.2e} d: {sweep_error / error:.0f} x")
    return 0 if here <= sweep and sweep_error >= 100 * error else 1


if __name__ == "__main__":
    sys.exit(main())

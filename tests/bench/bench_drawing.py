"""Hidden lines of a 50-coil spring by this package, and by the kernel's exact algorithm.

Run ``python tests/bench/bench_drawing.py [--kernel]``; the kernel needs many seconds.
"""

from __future__ import annotations

import sys
import time

from springgeo import Spring
from springgeo.drawing import drawing_files
from springgeo.drawing.layout import sights
from springgeo.drawing.view.silhouette import silhouette

SPEC = {
    "wire": {"material": "astm-a228", "diameter": 1.2},
    "body": {"mean_diameter": 9.6, "coils": 50},
    "ends": {"first": {"style": "machine-half-loop"}, "second": {"style": "machine-half-loop"}},
    "service": {"loads": [25, 40]},
}


def main() -> None:
    """Print the processor seconds of each."""
    spring = Spring.from_dict(SPEC)
    views = dict(zip(("side view", "end view"), sights("first"), strict=False))
    for name, sight in views.items():
        best = min(
            _seconds(lambda s=sight: silhouette(spring.centreline, 1.2, s)) for _ in range(5)
        )
        print(f"{name:24} {best:8.3f} s")
    summary = spring.summary()
    for kind in ("pdf", "svg", "dxf"):
        best = min(
            _seconds(lambda k=kind: drawing_files(spring.model, summary, k)[0]) for _ in range(2)
        )
        print(f"sheet as {kind:15} {best:8.3f} s")
    if "--kernel" in sys.argv:
        solid = spring.solid()
        print(f"kernel, one side view    {_seconds(lambda: _kernel(solid)):8.3f} s")


def _seconds(call: object) -> float:
    start = time.process_time()
    call()  # type: ignore[operator]
    return time.process_time() - start


def _kernel(solid: object) -> None:
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
    from OCP.HLRAlgo import HLRAlgo_Projector
    from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape

    hidden = HLRBRep_Algo()
    hidden.Add(solid.wrapped)  # type: ignore[attr-defined]
    hidden.Projector(HLRAlgo_Projector(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(0, 1, 0))))
    hidden.Update()
    hidden.Hide()
    HLRBRep_HLRToShape(hidden).VCompound()


if __name__ == "__main__":
    main()

"""A million springs made to tolerances: CPU seconds, against a loop over springs.

Run ``python tests/bench/bench_tolerance.py``. The loop is what a user would otherwise write: each
spring made with its own dimensions, and its load curve asked; ratio in the same run.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from typing import TypeVar

import numpy as np

import springgeo as sg
from springgeo.specification.tolerances import Tolerances
from springgeo.summary.handbook import Handbook
from springgeo.tolerance.closed_form import Nominal
from springgeo.tolerance.corrected import Corrected
from springgeo.tolerance.inputs import inputs
from springgeo.tolerance.strayed import Strayed
from springgeo.tolerance.truth import Truth, answers_of, asked_points

SPRINGS, LOOP = 1 << 20, 20
T = TypeVar("T")


def timed(work: Callable[[], T]) -> tuple[float, T]:
    """Return CPU seconds and what was made."""
    start = time.process_time()
    made = work()
    return time.process_time() - start, made


def main() -> None:
    """Print what a million springs cost, and what a loop over them would."""
    spring = sg.Spring.from_preset("gate-latch")
    book = Handbook(spring.model)
    strays, points = inputs(book, Tolerances()), asked_points(book)
    truth = Truth(book, Nominal.of(book, hooks_rule=False), answers_of(book, points))
    asked, model = timed(lambda: Corrected.of(truth, strays, "none", lambda _name: None))
    every = Strayed(model, strays, "normal", 1)
    every.drawn(1 << 10, truth.answers)  # imports
    drawing, _ = timed(lambda: every.drawn(SPRINGS, truth.answers))
    whole, _ = timed(lambda: spring.tolerance({"share": "99 %"}))
    rng = np.random.default_rng(1)

    def one() -> list[float]:
        made = spring.with_(
            wire__diameter=1.2 + 0.003 * rng.standard_normal(),
            body__mean_diameter=9.6 + 0.08 * rng.standard_normal(),
            body__initial_tension=7 + 0.35 * rng.standard_normal(),
        )
        margins = made.along_the_wire.stressed(30.0).margin
        return [*(made.load_curve.load(p.length) for p in points), margins.body_shear or 0.0]

    loop, _ = timed(lambda: [one() for _ in range(LOOP)])
    each = loop / LOOP
    lines = [
        f"{SPRINGS} springs, {len(truth.answers)} answers each, CPU s",
        f"drawn and answered:    {drawing:8.2f}   (bound 2)",
        f"the correction before: {asked:8.2f}   ({model.response.asked} springs in equilibrium)",
        f"the whole answer:      {whole:8.2f}   (statistics, checks, indices, widths)",
        f"a loop over springs:   {each * SPRINGS:8.0f}   ({1e3 * each:.0f} ms a spring, of {LOOP})",
        f"ratio of loop to drawn: {each * SPRINGS / drawing:.0f}; to the whole: "
        f"{each * SPRINGS / whole:.0f}",
    ]
    sys.stdout.write("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()

"""The closed form's correction: what the wire in equilibrium answers over what the handbook does.

The ratio of both varies little over a tolerance. It is taken as a sum of parabolas, one in each
thing that strays, through the nominal spring and one at either end of the tolerance; how far that
is off is measured at springs drawn at random.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from springgeo.errors import SpecError
from springgeo.mechanics.value import Array
from springgeo.tolerance.closed_form import Off
from springgeo.tolerance.inputs import Input

# of a nominal value: no smaller step tells a slope from what the solver leaves open
_LEAST_STEP = 1e-4
# halvings of a step whose spring cannot be made
_HALVINGS = 5
# the correction stays as it is beyond so many steps
_FAR = 2.0
# what neither the closed form nor any correction of it is asked about
EXACT = frozenset({"tensile_strength"})


@dataclass(frozen=True)
class Response:
    """Ratios of every answer (m) to the closed form's.

    ``steps``: by the name of what strays, half of the range in which it was asked. ``linear`` and
    ``square`` ``(inputs, m)``: slopes and curvatures per step.
    """

    nominal: Array
    steps: Mapping[str, float]
    linear: Array
    square: Array
    asked: int
    narrowed: tuple[str, ...] = ()

    def at(self, off: Off, answer: int) -> Array:
        """Return the ratios of one answer for springs of some deviations, ``(n,)``."""
        found: Array = np.asarray(self.nominal[answer])
        for i, (name, step) in enumerate(self.steps.items()):
            a, b = float(self.linear[i, answer]), float(self.square[i, answer])
            if name not in off or (a == 0.0 and b == 0.0):
                continue
            t = np.clip(off[name] / step, -_FAR, _FAR)
            found = found + t * (a + b * t)
        return found


def fitted(
    inputs: Sequence[Input],
    ratio: Callable[[Mapping[str, float]], Array],
    told: Callable[[str], object],
) -> Response:
    """Return the response through the springs at either end of every tolerance.

    Parameters
    ----------
    inputs : sequence of Input
    ratio : callable
        Ratios of a spring of some deviations; raises SpecError where there is no such spring.
    told : callable
        Is told of every step.
    """
    nominal = ratio({})
    steps, linear, square, narrowed, asked = {}, [], [], [], 1
    for x in inputs:
        reach = max(abs(x.low), abs(x.high))
        if reach == 0.0 or x.name in EXACT:
            continue
        told(x.name)
        step = max(reach, _LEAST_STEP * abs(x.nominal))
        ends = []
        for sign in (1.0, -1.0):
            size, values = _made(x.name, sign * step, ratio)
            asked += values is not None
            if size != sign * step:
                narrowed.append(x.name)
            if values is not None:
                # a spring that is slack there, or whose coils touch, tells nothing
                ends.append((size / step, np.nan_to_num(values - nominal, nan=0.0)))
        a, b = _parabola(ends, len(nominal))
        steps[x.name] = step
        linear.append(a)
        square.append(b)
    shape = (len(steps), len(nominal))
    return Response(
        nominal,
        steps,
        np.array(linear).reshape(shape),
        np.array(square).reshape(shape),
        asked,
        tuple(dict.fromkeys(narrowed)),
    )


def _made(
    name: str, step: float, ratio: Callable[[Mapping[str, float]], Array]
) -> tuple[float, Array | None]:
    """Return ratios at a step, or at the nearest half of it at which there is a spring."""
    for _ in range(_HALVINGS):
        try:
            return step, ratio({name: step})
        except SpecError:
            step /= 2
    return step, None


def _parabola(ends: Sequence[tuple[float, Array]], count: int) -> tuple[Array, Array]:
    """Return slope and curvature of the parabola through zero and the values at up to two ends."""
    none = np.zeros(count)
    if not ends:
        return none, none
    if len(ends) == 1:
        return ends[0][1] / ends[0][0], none
    (s, u), (t, v) = ends
    b = (u / s - v / t) / (s - t)
    return u / s - b * s, b

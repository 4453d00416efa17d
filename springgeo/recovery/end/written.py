"""An end as it will be written: a style with its values, or a traced centreline."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator
from dataclasses import replace
from typing import Any

import numpy as np

from springgeo.ends.protocol import EndShape
from springgeo.errors import SpecError
from springgeo.recovery.end.fit import built, errors
from springgeo.recovery.end.recovered import RecoveredEnd
from springgeo.recovery.ends import EndFound, near_own, without_hook
from springgeo.recovery.trace import Trace, traced
from springgeo.recovery.value import Z95, Value

# scatter alone is too sure of itself: neighbouring points of a scan err alike
HONEST = 2.0
# and no surface is truer than this, of the wire's diameter
TRUEST = 2e-4
_DIGITS = 7
_MEASURES = "loop_radius", "bend_radius", "hook_length", "opening"


class EndWritten:
    """An end as it will be written: a style with its values, or a traced centreline."""

    def __init__(self, found: EndFound, trace: Trace | None, untold: Collection[str] = ()) -> None:
        self.found, self.trace = found, trace
        self.errors = {k: HONEST * v for k, v in errors(found.candidate, found.data).items()}
        # what no point tells is as vague as it is great
        self.untold = {k: abs(found.candidate.values[k]) for k in untold}
        self.errors |= self.untold

    @classmethod
    def of(cls, found: EndFound) -> EndWritten:
        """Return the end; where no style is it, or a value is not told, as it was followed.

        Where one style alone agrees with what was seen, it is believed beyond.
        """
        styled = cls(found, None)
        untold = styled._not_told()
        if found.known and not untold:
            return styled
        if found.known and not found.equal and len(untold) < len(found.candidate.values):
            return cls(near_own(found, untold), None, untold)
        trace = traced(found.data)
        return cls(without_hook(found) if trace is None and untold else found, trace)

    def _not_told(self) -> list[str]:
        """Return the fitted values that the points say nothing of."""
        wide = 2 * self.found.data.wire
        values = self.found.candidate.values.items()
        return [n for n, v in values if not self.errors.get(n, 0.0) < max(abs(v), wide)]

    @property
    def delta(self) -> float:
        """How much further on the body ends, rad."""
        return self.found.candidate.delta if self.trace is None else self.trace.delta

    @property
    def choice(self) -> dict[str, Any]:
        """As a specification holds it."""
        if self.trace is not None:
            points = np.round(self.trace.points, 5).tolist()
            return {"style": "traced", "points": points}
        kept = self._kept()
        style = self.found.candidate.style.name
        return {"style": style, **{k: rounded(v) for k, v in kept.items()}}

    def _kept(self) -> dict[str, float]:
        """Return the values that are not the style's own anyway, as far as they are known.

        What a style takes by itself is often the least it can be made with: a written figure
        would stand at a limit that the last digit of another value moves.
        """
        c, data = self.found.candidate, self.found.data
        kept = dict(c.values)
        for name in c.values:
            rest = {k: v for k, v in kept.items() if k != name}
            wire = built(replace(c, values=rest), data.end)
            if isinstance(wire, SpecError):
                continue
            own = wire.shape.as_built([name]).get(name)
            known = 0.0 if name in self.untold else self.errors.get(name, 0.0)
            near = max(known, TRUEST * 2 * data.wire)
            if isinstance(own, float | int) and abs(own - kept[name]) < near:
                kept = rest
        return kept

    def told(self, shape: EndShape) -> RecoveredEnd:
        """Return what is said of it; ``shape`` is what was built."""
        best, r2 = self.found.best, 2 * self.found.data.wire
        values = dict(self._values(shape))
        if self.trace is not None:
            return RecoveredEnd("traced", (), values, False, best.strange, self.trace.unseen)
        unseen = best.unseen * r2 + best.tip
        style = best.candidate.style.name
        broken = tuple(n for n in self.found.broken if best.outside and n != style)
        return RecoveredEnd(
            style,
            self.found.equal,
            values,
            True,
            best.strange,
            unseen,
            best.tip,
            broken,
            self._wide(shape),
        )

    def _wide(self, shape: EndShape) -> bool:
        """Return whether the end lies further open than its style is made with, by a wire."""
        _, most = self.found.candidate.style.ranges(self.found.data.end).get("opening", (0, None))
        d = 2 * self.found.data.wire
        return bool(most is not None and shape.opening is not None and shape.opening > most + d)

    def _values(self, shape: EndShape) -> Iterator[tuple[str, Value]]:
        c, data = self.found.candidate, self.found.data
        least = TRUEST * 2 * data.wire
        own = {} if self.trace is not None else c.values
        for name in own:
            yield name, Value(float(own[name]), Z95 * math.hypot(self.errors[name], least))
        for name in _MEASURES:
            value = getattr(shape, name)
            if value is None or name in own:
                continue
            u = 0.25 * 2 * data.wire if self.trace is not None else self.carried(name)
            yield name, Value(float(value), Z95 * math.hypot(u, least))

    def carried(self, name: str) -> float:
        """Return the standard error of a measure that follows from the style's values."""
        c, data = self.found.candidate, self.found.data
        here = built(c, data.end)
        if isinstance(here, SpecError):
            return math.inf
        total = 0.0
        for key, value in c.values.items():
            step = 1e-3 * data.wire
            for sign in (1, -1):
                other = built(replace(c, values={**c.values, key: value + sign * step}), data.end)
                if not isinstance(other, SpecError):
                    a, b = getattr(other.shape, name), getattr(here.shape, name)
                    if a is not None and b is not None:
                        total += ((a - b) / step * self.errors[key]) ** 2
                    break
        return math.sqrt(total)


def rounded(value: float) -> float:
    """Return a value with as many digits as a specification is written with."""
    return float(f"{value:.{_DIGITS}g}")

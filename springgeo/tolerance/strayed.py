"""Springs drawn by their tolerances: their answers, shares inside limits, Sobol' indices."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from springgeo.mechanics.value import Array, Mask
from springgeo.specification.tolerances import Distribution
from springgeo.tolerance.corrected import Corrected
from springgeo.tolerance.drawn import deviations, standard, unit_draws
from springgeo.tolerance.indices import Indices, indices
from springgeo.tolerance.inputs import Input
from springgeo.tolerance.limited import Limit
from springgeo.tolerance.truth import Answer

# springs that widths are sought with; rows of the indices' matrices
SOUGHT, ROWS = 1 << 16, 1 << 13


@dataclass(frozen=True)
class Drawn:
    """Springs drawn: values by answer, those that can be made first of all."""

    values: dict[Answer, Array]
    possible: Mask

    @property
    def count(self) -> int:
        """How many were drawn."""
        return len(self.possible)

    def inside(self, limits: Mapping[Answer, Limit]) -> float:
        """Return the share of all springs drawn that lie within all limits."""
        good = self.possible.copy()
        for answer, limit in limits.items():
            value = self.values[answer]
            good &= (value >= limit.low) & (value <= limit.high)
        return float(good.mean())


@dataclass(frozen=True)
class Strayed:
    """A spring, what strays of it, and what it is asked."""

    model: Corrected
    inputs: tuple[Input, ...]
    distribution: Distribution
    seed: int

    def drawn(self, count: int, wanted: Sequence[Answer]) -> Drawn:
        """Return so many springs, their ``wanted`` answers."""
        blocks: list[list[Array]] = []
        possible: list[Mask] = []
        for u in unit_draws(count, len(self.inputs), self.seed):
            values, wrong = self._of(standard(u, self.distribution), self.inputs, wanted)
            blocks.append(values)
            possible.append(~wrong)
        joined = [np.concatenate(column) for column in zip(*blocks, strict=True)]
        return Drawn(dict(zip(wanted, joined, strict=True)), np.concatenate(possible))

    @cached_property
    def _sought(self) -> Array:
        u = np.concatenate(list(unit_draws(SOUGHT, len(self.inputs), self.seed)), axis=1)
        return standard(u, self.distribution)

    def inside(self, limits: Mapping[Answer, Limit], factors: Mapping[str, float] | float) -> float:
        """Return the share inside with tolerances multiplied, by name or all alike."""
        wide = [
            x.widened(factors if isinstance(factors, float) else factors.get(x.name, 1.0))
            for x in self.inputs
        ]
        values, wrong = self._of(self._sought, wide, list(limits))
        return Drawn(dict(zip(limits, values, strict=True)), ~wrong).inside(limits)

    def indices(self, wanted: Sequence[Answer], nominal: Mapping[Answer, float]) -> Indices:
        """Return Sobol' indices of some answers; a spring that cannot be made is the nominal."""

        def answer(u: Array) -> Array:
            z = standard(u, self.distribution)
            values, wrong = self._of(z, self.inputs, wanted)
            pairs = zip(wanted, values, strict=True)
            return np.array([np.where(wrong, nominal[a], v) for a, v in pairs])

        return indices(answer, len(self.inputs), ROWS, self.seed)

    def _of(
        self, z: Array, inputs: Sequence[Input], wanted: Sequence[Answer]
    ) -> tuple[list[Array], Mask]:
        shape = z.shape[1:]
        with np.errstate(all="ignore"):
            values, wrong = self.model.values(deviations(inputs, z), wanted)
        return [np.broadcast_to(v, shape) for v in values], np.broadcast_to(wrong, shape)

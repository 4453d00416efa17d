"""Springs drawn by their tolerances, answered: the closed form times its correction."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from springgeo.mechanics.value import Array, Mask
from springgeo.tolerance.adjusting import LOT, adjusted
from springgeo.tolerance.closed_form import Made, Nominal, Off
from springgeo.tolerance.inputs import Input
from springgeo.tolerance.response import Response, fitted
from springgeo.tolerance.truth import FATIGUE, MARGINS, Answer, Asked, Truth


@dataclass(frozen=True)
class Corrected:
    """The model that springs are drawn from.

    ``answers``: what may be asked of a spring; ``response``: corrections, by the numbers of the
    answers; ``adjusts``: what the maker sets anew for each lot of wire, or none.
    """

    nominal: Nominal
    answers: tuple[Answer, ...]
    response: Response
    adjusts: str = "none"

    @classmethod
    def of(
        cls, truth: Truth, inputs: Sequence[Input], adjusts: str, told: Callable[[str], object]
    ) -> Corrected:
        """Return the model of a spring; asks its wire at either end of every tolerance."""

        def ratio(off: Mapping[str, float]) -> Array:
            arrays = {name: np.asarray(x) for name, x in off.items()}
            true = truth.at(off)
            alone = _Springs(truth.nominal, arrays, None, _loads(truth.answers, true))
            base = np.array([float(alone.base(a)) for a in truth.answers])
            with np.errstate(divide="ignore", invalid="ignore"):
                found = true / base
            return np.where(np.isfinite(found), found, np.nan)

        return cls(truth.nominal, truth.answers, fitted(inputs, ratio, told), adjusts)

    @cached_property
    def numbers(self) -> dict[Answer, int]:
        """The number of every answer."""
        return {a: n for n, a in enumerate(self.answers)}

    def as_made(self, off: Off) -> Off:
        """Return deviations with what the maker adjusts for the lot of wire."""
        if self.adjusts == "none":
            return off
        aim = [a for a in self.answers if a.kind == "load"][-1]
        assert aim.point is not None
        number, lot = self.numbers[aim], {k: off[k] for k in LOT if k in off}
        wanted = aim.point.load / self.response.at(lot, number)
        return adjusted(self.nominal, aim.point.length, wanted, lot, off, self.adjusts)

    def values(self, off: Off, wanted: Sequence[Answer]) -> tuple[list[Array], Mask]:
        """Return some answers of springs of some deviations, and which springs cannot be."""
        return self.plainly(self.as_made(off), wanted)

    def plainly(self, off: Off, wanted: Sequence[Answer]) -> tuple[list[Array], Mask]:
        """Return the same of springs off by exactly that: nothing is adjusted."""
        springs = _Springs(self.nominal, off, self)
        return [springs.value(a) for a in wanted], springs.made.impossible


def _loads(answers: Sequence[Answer], true: Array) -> dict[Asked, Array]:
    """Return the loads among true answers by their working points."""
    pairs = zip(answers, true, strict=True)
    return {a.point: np.asarray(x) for a, x in pairs if a.kind == "load" and a.point}


class _Springs:
    """Springs of some deviations; what several answers need is computed once.

    ``loads``: true ones at working points. A margin at a given length is that at the load there,
    which is corrected by itself: what corrects the margin is asked at the true load.
    """

    def __init__(
        self,
        nominal: Nominal,
        off: Off,
        model: Corrected | None,
        loads: Mapping[Asked, Array] | None = None,
    ) -> None:
        self.nominal, self.off, self.model = nominal, off, model
        self.made: Made = nominal.made(off)
        self._loads: dict[Asked, Array] = dict(loads or {})
        self._known: dict[Asked, list[Array | None]] = {}
        self._stresses: dict[Asked | None, list[Array | None]] = {}

    def value(self, answer: Answer) -> Array:
        """Return an answer, corrected; a length by its extension."""
        if answer.kind == "load":
            assert answer.point is not None
            return self.load(answer.point)
        if answer.kind == "rate" and answer.point is not None and answer.to is not None:
            apart = answer.to.length - answer.point.length
            return (self.load(answer.to) - self.load(answer.point)) / apart
        found = self.base(answer) * self._ratio(answer)
        return self.made.L_0 + found if answer.kind == "length" else found

    def load(self, p: Asked) -> Array:
        """Return the load at the length of a working point, N."""
        if p not in self._loads:
            answer = Answer("load", p)
            self._loads[p] = self.nominal.load(self.made, p.length) * self._ratio(answer)
        return self._loads[p]

    def base(self, answer: Answer) -> Array:
        """Return an answer by the closed form; the extension for a length."""
        if answer.kind == "rate":
            return self.made.k  # between two points it is read off their loads
        if answer.kind == "free_length":
            return self.made.L_0
        p = answer.point
        assert p is not None
        if answer.kind == "load":
            return self.nominal.load(self.made, p.length)
        if answer.kind == "length":
            return self.nominal.extension(self.made, p.load)
        if answer.kind == FATIGUE:
            return self._factor(answer, p)
        found = self._margins(p)[MARGINS.index(answer.place)]
        assert found is not None
        return found

    def _margins(self, p: Asked) -> list[Array | None]:
        if p not in self._known:
            self._known[p] = self.nominal.margins(self.made, self._pull(p), self.off)
        return self._known[p]

    def _pull(self, p: Asked) -> Array:
        """Return the load at a working point, N: that at its length, or the one given."""
        return self.load(p) if p.by_length and p.judged else np.asarray(p.load)

    def _factor(self, answer: Answer, p: Asked) -> Array:
        repeated = self.nominal.repeated
        assert repeated is not None
        high = self._pull(p)
        low = np.minimum(self.made.F_i, high) if answer.to is None else self._pull(answer.to)
        for at, load in ((answer.to, low), (p, high)):
            if at not in self._stresses:
                self._stresses[at] = self.nominal.stresses(self.made, load, self.off)
        n = MARGINS.index(answer.place)
        least, most = self._stresses[answer.to][n], self._stresses[p][n]
        assert least is not None
        assert most is not None
        return repeated.factor(answer.place, least, most, self.nominal.strength(self.off))

    def _ratio(self, answer: Answer) -> Array:
        if self.model is None:
            return np.ones(())
        return self.model.response.at(self.off, self.model.numbers[answer])

"""How far the load at a length strays when every dimension is held as makers hold it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from springgeo.specification.tolerances import Tolerances
from springgeo.summary.handbook import Handbook
from springgeo.tolerance.closed_form import Nominal
from springgeo.tolerance.corrected import Corrected
from springgeo.tolerance.inputs import Input, inputs
from springgeo.tolerance.limited import Limit
from springgeo.tolerance.response import Response
from springgeo.tolerance.strayed import Strayed
from springgeo.tolerance.truth import Answer, Asked, Truth
from springgeo.trade.held import Grade

Method = Literal["along-the-wire", "handbook"]
COUNT = 1 << 13
# beyond which a normal distribution has 0.135 % on either side
_TAIL = 0.00135


@dataclass(frozen=True)
class Spread:
    """The load at one length inside hooks, N and mm.

    ``low`` and ``high`` hold 99.73 % of springs; ``chance`` is the share within ``allowed`` of
    ``wanted``. ``shares`` of the variance by dimension (Sobol' indices), greatest first.
    """

    length: float
    wanted: float
    allowed: float
    mean: float
    deviation: float
    low: float
    high: float
    chance: float
    shares: dict[str, float]


def spreads(
    book: Handbook,
    wanted: Sequence[tuple[float, float, float]],
    method: Method = "along-the-wire",
    *,
    grade: Grade = 2,
    count: int = COUNT,
    whole: bool = False,
) -> tuple[Spread, ...]:
    """Return the spread of the load at lengths, by springs drawn over the tolerances.

    By the closed form (``springgeo.tolerance``): the handbook's alone, or corrected by the load
    curve of the nominal spring; ``whole``: by that of springs off in every dimension, too.

    Parameters
    ----------
    book : Handbook
        Of the nominal spring.
    wanted : sequence of (mm, N, N)
        Lengths inside hooks, loads, and their tolerances.
    method : {"along-the-wire", "handbook"}
    grade : {1, 2, 3}
        Grade of DIN 2097.
    count : int
        Springs drawn.
    whole : bool
    """
    nominal = Nominal.of(book, hooks_rule=False)
    strays = inputs(book, Tolerances(grade=grade))
    answers = [
        Answer("load", Asked(n, _load(book, nominal, x, method), x, by_length=True, judged=True))
        for n, (x, _, _) in enumerate(wanted, 1)
    ]
    model = _model(book, nominal, answers, strays if whole else (), method)
    every = Strayed(model, strays, "normal", seed=1)
    drawn = every.drawn(count, answers)
    shares = every.indices(
        answers, {a: load for a, (_, load, _) in zip(answers, wanted, strict=True)}
    )
    found = []
    for n, (answer, (length, load, allowed)) in enumerate(zip(answers, wanted, strict=True)):
        values = drawn.values[answer][drawn.possible]
        low, high = np.quantile(values, [_TAIL, 1 - _TAIL])
        total = {x.name: float(shares.total[i, n]) for i, x in enumerate(strays)}
        found.append(
            Spread(
                length,
                load,
                allowed,
                float(values.mean()),
                float(values.std()),
                float(low),
                float(high),
                drawn.inside({answer: Limit(load - allowed, load + allowed, "", "")}),
                dict(sorted(total.items(), key=lambda item: -item[1])),
            )
        )
    return tuple(found)


def _load(book: Handbook, nominal: Nominal, length: float, method: Method) -> float:
    if method == "handbook":
        return float(nominal.load(nominal.made({}), length))
    return book.curve.load(length)


def _model(
    book: Handbook,
    nominal: Nominal,
    answers: Sequence[Answer],
    corrected: Sequence[Input],
    method: Method,
) -> Corrected:
    if method == "handbook":
        none = np.zeros((0, len(answers)))
        return Corrected(
            nominal, tuple(answers), Response(np.ones(len(answers)), {}, none, none, 0)
        )
    truth = Truth(book, nominal, tuple(answers))
    return Corrected.of(truth, corrected, "none", lambda _step: None)

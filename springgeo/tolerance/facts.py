"""The whole answer: springs drawn, shares inside limits, what costs most, how wide each may be."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from springgeo.errors import SpecError
from springgeo.findings import Finding, error
from springgeo.results.tolerance import Correction, Spread, Stray, Tolerance
from springgeo.specification.tolerances import Tolerances
from springgeo.summary.handbook import Handbook
from springgeo.summary.temperature import require_limits
from springgeo.tolerance.adjusting import free_of, require
from springgeo.tolerance.checked import differences
from springgeo.tolerance.closed_form import Nominal
from springgeo.tolerance.corrected import Corrected
from springgeo.tolerance.drawn import SIGMAS
from springgeo.tolerance.inputs import WORDS, Input, inputs
from springgeo.tolerance.limited import Limit, limits_of
from springgeo.tolerance.remarks import findings_of, remarks_of
from springgeo.tolerance.spreads import spread
from springgeo.tolerance.strayed import Strayed
from springgeo.tolerance.truth import Answer, Truth, answers_of, asked_points
from springgeo.tolerance.widths import widest

SPRINGS, LEAST, MOST = 1 << 20, 1 << 10, 1 << 24


def tolerance_facts(
    book: Handbook,
    asked: Tolerances | None = None,
    *,
    springs: int = SPRINGS,
    seed: int = 1,
    told: Callable[[str], object] = lambda _step: None,
) -> Tolerance:
    """Return how springs made to tolerances come out.

    Parameters
    ----------
    book : Handbook
    asked : Tolerances, optional
        Those of the specification, or the trade's, if left out.
    springs : int
        How many are drawn.
    seed : int
        Another one draws others.
    told : callable
        Is told of every step.

    Raises
    ------
    SpecError
        A tolerance does not fit the spring, a number or the service temperature is out of range,
        or none of the springs drawn can be made.
    """
    _require(springs, seed)
    spec = book.model.spec
    asked = asked or spec.tolerances or Tolerances()
    require_limits(book.model)
    strays = inputs(book, asked)
    straying = tuple(x for x in strays if x.low or x.high)
    if not straying:
        text = "every tolerance is 0, so that nothing strays; give one that is not"
        raise SpecError(error("nothing-strays", "tolerances", text))
    points = asked_points(book)
    nominal = Nominal.of(book, hooks_rule=asked.hook_length is not None)
    adjusts = asked.adjusts or free_of(book, points)
    require(nominal, adjusts, points)
    truth = Truth(book, nominal, answers_of(book, points))
    told("the spring itself")
    at_rest = dict(zip(truth.answers, truth.shown_at({}).tolist(), strict=True))
    limits = limits_of(book, asked, at_rest)
    model = Corrected.of(truth, straying, adjusts, lambda name: told(WORDS[name]))
    every = Strayed(model, straying, asked.distribution, seed)
    told("drawing springs")
    drawn = every.drawn(springs, truth.answers)
    if not drawn.possible.any():
        raise SpecError(_impossible(straying))
    told("springs asked one by one")
    off = differences(every, truth)
    told("what costs most")
    shares = every.indices(truth.answers, at_rest)
    names = [x.name for x in straying]
    spreads = tuple(
        spread(a, at_rest[a], drawn, limits.get(a), (names, shares, n), off.percent[n])
        for n, a in enumerate(truth.answers)
    )
    limited = [n for n, a in enumerate(truth.answers) if a in limits]
    worst = min(limited, key=lambda n: spreads[n].inside or 0.0)
    told("how wide each may be")
    found = [_stray(x, every, limits, asked.share, spreads[worst]) for x in strays]
    together, most = None, False
    if asked.share is not None:
        together, most = widest(lambda f: every.inside(limits, f), asked.share)
    return Tolerance(
        name=spec.name,
        springs=springs,
        seed=seed,
        distribution=asked.distribution,
        sigmas=SIGMAS if asked.distribution == "normal" else None,
        grade=asked.grade,
        adjusts=adjusts,
        impossible=int((~drawn.possible).sum()),
        inside=drawn.inside(limits),
        worst=worst,
        strays=tuple(found),
        spreads=spreads,
        share=asked.share,
        together=together,
        together_most=most,
        correction=Correction(
            asked=model.response.asked, checked=off.springs, narrowed=model.response.narrowed
        ),
        remarks=remarks_of(
            asked,
            adjusts,
            spectrum=bool(spec.service.spectrum),
            mounted=book.place is not None,
        ),
        findings=findings_of(spreads, points, drawn, model.response.narrowed),
    )


def _stray(
    x: Input,
    every: Strayed,
    limits: Mapping[Answer, Limit],
    share: float | None,
    worst: Spread,
) -> Stray:
    alone, most = None, False
    if share is not None and (x.low or x.high):
        alone, most = widest(lambda f: every.inside(limits, {x.name: f}), share)
    return Stray(
        **x.model_dump(exclude={"key"}),
        first=worst.first.get(x.name, 0.0),
        total=worst.total.get(x.name, 0.0),
        inside_if_exact=every.inside(limits, {x.name: 0.0}),
        alone=alone,
        alone_most=most,
    )


def _impossible(strays: Sequence[Input]) -> Finding:
    names = ", ".join(x.name for x in strays)
    text = f"no spring can be made with these tolerances ({names}); narrow them"
    return error("tolerances-too-wide", "tolerances", text)


def _require(springs: int, seed: int) -> None:
    if not LEAST <= springs <= MOST:
        text = f"{springs} springs: draw {LEAST} to {MOST}"
        raise SpecError(error("bad-value", "springs", text))
    if not 0 <= seed < 1 << 63:
        text = f"{seed} is not from 0 to 2^63 - 1"
        raise SpecError(error("bad-value", "seed", text))

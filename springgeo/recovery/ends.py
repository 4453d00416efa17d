"""Each end: the style whose wire fits its points best, and the styles that fit as well."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, replace

import numpy as np

from springgeo.ends import registry
from springgeo.ends.protocol import EndShape
from springgeo.errors import SpecError
from springgeo.recovery.end.bank import lent_to, likely
from springgeo.recovery.end.fit import Candidate, EndPoints, built, fit
from springgeo.recovery.end.judged import Judged, judged
from springgeo.recovery.valley import clear_points

_STARTS, _ROUGH, _FINALISTS = 14, 8, 4
_FEWEST, _FEW, _COARSE, _MIDDLE = 40, 350, 700, 3000
# where nothing of an end is seen
PLAIN = Candidate(registry.get("plain"), {}, 0.0)
# another style whose sum of squares is no greater than this above the best's fits as well
_EQUAL = 30.0
# and another whose sum is no greater than this share above it may fit better points as well
_RIVAL = 0.4
# share of strange points up to which an end is the style it was taken for
_STRANGE = 0.14
# and above which it may lie along its own legs
_ASTRAY = 0.03
# and above which it may lie the wrong way round, or above so great a mean square over the error's
_TURNED, _MISFIT = 0.01, 1.1
# loop radii tried over a style's range
_RADII = 15
# coils more, then, of an end that winds some
_TURNS = -0.5, 0.5
# share of strange points above which more shapes are tried, and how many times as many
_SURE, _EFFORTS = 0.045, (1, 2)
# wire beyond the last points, in its radii, that is more than a cut end seen badly
_SHORT = 4.0
# and from which a style that is cut sooner may be it
_SOONER = 1.0
# steps at least where an end winds coils: the first hardly differ from the body's, a long valley
_VALLEY = 30
# from one scale of the loss to the next
_NARROWER = 4.0
# how near to a style's own value one is at it, in wire radii
_AT_OWN = 0.02
# of the way to a style's own value, where no point tells another
_SHARES = 1.0, 0.75, 0.5, 0.25


@dataclass(frozen=True, eq=False)
class EndFound:
    """What an end was found to be.

    ``equal`` are other styles that agree with the points as well; ``known`` is false where no
    style does. ``rivals`` are those that only points known better can rule out, ``shift`` is where
    the best's body ends, rad, in the frame that the rivals are in. ``broken`` are styles that in
    more usual proportions agree up to where the points end, but whose wire goes on.
    """

    best: Judged
    data: EndPoints
    equal: tuple[str, ...]
    known: bool
    rivals: tuple[Judged, ...] = ()
    shift: float = 0.0
    broken: tuple[str, ...] = ()

    @property
    def candidate(self) -> Candidate:
        """The style and its values."""
        return self.best.candidate


def find_end(data: EndPoints, rng: np.random.Generator) -> EndFound:
    """Return the style of an end with its parameters, from the points near it."""
    if len(data.x) < _FEWEST:
        return EndFound(Judged(PLAIN, 0.0, 0.0, 0.0, 0.0), data, (), True)
    middle, coarse = data.some(_MIDDLE, rng), data.some(_COARSE, rng)
    error = max(data.noise, 0.01 * data.wire)
    every: list[Judged] = []
    for effort in _EFFORTS:
        starts = likely(data, rng, _STARTS * effort, effort)
        tried = _tried(starts, coarse, middle, error, _ROUGH * effort)
        every = sorted([*every, *tried], key=lambda j: j.total)
        # unusual values of one style may be the usual ones of another
        if every and (every[0].strange > _SURE or every[0].outside):
            lent = list(lent_to(every[0].candidate, data, rng))
            if every[0].strange <= _SURE:
                lent = [j.candidate for j in _of_each(_ranked(lent, coarse, error), _FINALISTS)]
            tried = _tried(lent, coarse, middle, error, _ROUGH * effort)
            every = sorted([*every, *tried], key=lambda j: j.total)
        if every and every[0].tip > _SOONER * data.wire:
            every = _cut_sooner(every, data, coarse, middle, error, rng)
        if every and every[0].strange < _SURE and every[0].chi2 < _MISFIT * len(middle.x):
            break
    if every[0].strange > _SURE:
        freed = [c for j in _of_each(every, 3) if (c := _freed(j.candidate, data)) is not None]
        more = _ranked([fit(c, middle, 1.5 * error, 20) for c in freed], middle, error)
        every = sorted([*every, *more], key=lambda j: j.total)
    return _chosen(every, data)


def _cut_sooner(
    every: list[Judged],
    data: EndPoints,
    coarse: EndPoints,
    middle: EndPoints,
    error: float,
    rng: np.random.Generator,
) -> list[Judged]:
    """Return the candidates, best first, with those of styles that end where the points do.

    Wire that goes on beyond them may be another style's, cut sooner. In a hole no point tells:
    only what agrees better by more than counts as equal is taken.
    """
    best = every[0]
    lent = _of_each(_ranked(lent_to(best.candidate, data, rng), coarse, error), _FINALISTS)
    tried = _tried([j.candidate for j in lent], coarse, middle, error, _ROUGH)
    told = [j for j in tried if j.chi2 < best.chi2 - _EQUAL]
    return sorted([*every, *told], key=lambda j: j.total)


def _tried(
    likeliest: list[Candidate], coarse: EndPoints, middle: EndPoints, error: float, most: int
) -> list[Judged]:
    """Return the best candidates of one go, best first; ``most`` are fitted more than roughly."""
    wire = coarse.wire
    # a race: few steps with few points for all, more for those that are ahead
    few = coarse.some(_FEW, np.random.default_rng(0))
    starts = sorted((fit(c, few, 0.3 * wire, 4) for c in likeliest), key=lambda c: c.cost)
    ahead = starts[: (len(starts) + most) // 2]
    kept = sorted((fit(c, few, 0.3 * wire, 4) for c in ahead), key=lambda c: c.cost)[:most]
    rough = [fit(c, coarse, 1.5 * max(error, 0.03 * wire), 6) for c in kept]
    best = _of_each(_ranked(rough, coarse, error), _FINALISTS)
    finalists = [fit(j.candidate, middle, 1.5 * error, 12) for j in best]
    more = [fit(c, middle, 1.5 * error, 12) for f in finalists[:2] for c in _shared(f)]
    ranked = _ranked([*finalists, *more], middle, error)
    again = [c for j in _of_each(ranked, _FINALISTS) for c in _other_lengths(j, coarse, error)]
    again += [c for j in _of_each(ranked, _FINALISTS) for c in _other_radii(j, coarse, error)]
    again += [c for j in _of_each(ranked, 2) for c in _other_way_round(j, middle)]
    again += [c for j in ranked[:2] for c in _slid(j.candidate, middle, 1.5 * error, 12)]
    fitted = _ranked([fit(c, middle, 1.5 * error, 12) for c in again], middle, error)
    return sorted([*ranked, *fitted], key=lambda j: j.total)


def _slid(c: Candidate, data: EndPoints, scale: float, rounds: int) -> Iterator[Candidate]:
    """Yield the candidate fitted with a value left to the style that is the style's own already.

    A hook without a leg is as short as its radii allow: at that limit no single value can be
    bettered, but all can go along it.
    """
    for name in c.values:
        if (own := _own(c, name, data)) is None or abs(own - c.values[name]) > _AT_OWN * data.wire:
            continue
        rest = {k: v for k, v in c.values.items() if k != name}
        moved = fit(replace(c, values=rest), data, scale, rounds)
        if (own := _own(moved, name, data)) is not None:
            yield replace(moved, values={**moved.values, name: own})


def _own(c: Candidate, name: str, data: EndPoints) -> float | None:
    """Return what a style takes by itself for a value, beside the others."""
    rest = {k: v for k, v in c.values.items() if k != name}
    wire = built(replace(c, values=rest), data.end)
    own = None if isinstance(wire, SpecError) else wire.shape.as_built([name]).get(name)
    return float(own) if isinstance(own, float | int) else None


def _other_lengths(found: Judged, data: EndPoints, error: float) -> list[Candidate]:
    """Return the candidate with another hook length, where that lies better on the points.

    Along straight legs a hook slides freely, and its cut end comes to lie anywhere on them.
    """
    c = found.candidate
    if found.strange < _ASTRAY or "hook_length" not in c.values:
        return []
    lengths = c.values["hook_length"] + np.linspace(-8, 8, 21) * data.wire
    tried = [replace(c, values={**c.values, "hook_length": float(x)}) for x in lengths]
    best = _ranked([c, *tried], data, error)[0].candidate
    return [] if best is c else [best]


def _other_radii(found: Judged, data: EndPoints, error: float) -> list[Candidate]:
    """Return the candidate with another loop radius of its usual range, where that lies better.

    Where little of a loop was seen, a fit may run to a limit of its radius, far from the true one.
    """
    c = found.candidate
    if not found.outside or "loop_radius" not in c.values:
        return []
    low, high = c.style.ranges(data.end).get("loop_radius", (0.0, 0.0))
    radii = np.linspace(low, high, _RADII).tolist()
    tried = [replace(c, values={**c.values, "loop_radius": x}) for x in radii]
    best = _ranked([c, *tried], data, error)[:1]
    return [j.candidate for j in best if j.candidate is not c]


def _other_way_round(found: Judged, data: EndPoints) -> list[Candidate]:
    """Return the hook turned by half a turn or one, as high as it was, where it leaves points over.

    In its plane a loop lies nearly as well the other way round, and as well where a whole coil
    that was hardly seen is taken for the body's or is not.
    """
    c = found.candidate
    if not c.values or (found.strange < _TURNED and found.chi2 < _MISFIT * len(data.x)):
        return []
    if "coils" in c.values:
        coils = [c.values["coils"] + k for k in _TURNS]
        return [replace(c, values={**c.values, "coils": n}) for n in coils if n > 0]
    rise = data.end.pitch / 2
    return [
        replace(
            c,
            delta=c.delta + halves * np.pi,
            values={k: v - halves * rise * (k == "hook_length") for k, v in c.values.items()},
        )
        for halves in (1, -1, 2, -2)
    ]


def _shared(c: Candidate) -> list[Candidate]:
    """Return the candidate with coils moved from the end to the body, and back.

    The first of the coils that an end winds hardly differ from the body's.
    """
    if "coils" not in c.values:
        return []
    moves = (-1.0, -0.4, 0.4, 1.0)
    return [
        replace(
            c, delta=c.delta + 2 * np.pi * k, values={**c.values, "coils": c.values["coils"] - k}
        )
        for k in moves
    ]


def polished(found: EndFound, data: EndPoints, rounds: int = 12) -> EndFound:
    """Return the same end fitted to other, or more, points."""
    judged_by = max(data.noise, 0.01 * data.wire)
    starts = [
        found.candidate,
        *(replace(j.candidate, delta=_moved(found, j)) for j in found.rivals),
    ]
    if len(starts) > 1:
        some = data.some(_MIDDLE, np.random.default_rng(0))
        ranked = _ranked([_close(c, some, 8) for c in starts], some, judged_by)
        # all points decide between those that these do not tell apart
        starts = [j.candidate for j in ranked if j.total - ranked[0].total < _EQUAL]
    close = _ranked([_close(c, data, rounds) for c in starts], data, judged_by)
    scale = 1.5 * max(data.noise, 0.01 * data.wire)
    slid = [_close(c, data, rounds) for j in close[:1] for c in _slid(j.candidate, data, scale, 6)]
    close = sorted([*close, *_ranked(slid, data, judged_by)], key=lambda j: j.total)
    if not close:
        return found
    best, *others = close
    if len(starts) > 1 or best.candidate.style.name != found.candidate.style.name:
        found = replace(found, equal=_as_well(best, others))
    found = replace(found, rivals=())
    # other things lying about are among these points: what is strange was judged before
    best = replace(best, strange=found.best.strange)
    return replace(found, best=best, data=data)


def without_hook(found: EndFound) -> EndFound:
    """Return the end as one whose coils end, with nothing on them."""
    bare = EndFound(Judged(PLAIN, 0.0, 0.0, 0.0, 0.0), found.data, (), True)
    return polished(bare, found.data)


def near_own(found: EndFound, names: Collection[str]) -> EndFound:
    """Return the end with values of ``names``, which no point tells, near the style's own.

    As near as what was seen allows.
    """
    c = found.candidate
    rest = {k: v for k, v in c.values.items() if k not in names}
    wire = built(replace(c, values=rest), found.data.end)
    if isinstance(wire, SpecError):
        return found
    own = {k: v for k, v in wire.shape.as_built(names).items() if not isinstance(v, str)}
    for share in _SHARES:
        between = {k: c.values[k] + share * (float(v) - c.values[k]) for k, v in own.items()}
        start = replace(found.best, candidate=replace(c, values={**c.values, **between}))
        if isinstance(built(start.candidate, found.data.end), SpecError):
            continue
        fitted = polished(replace(found, best=start, rivals=()), found.data)
        if fitted.best.chi2 < found.best.chi2 + _EQUAL:
            return fitted
    return found


def _close(c: Candidate, data: EndPoints, rounds: int) -> Candidate:
    """Return the candidate fitted to points to their last digit."""
    error = max(data.noise, 2e-5 * data.wire)
    scale = max(error, 0.01 * data.wire)
    # points of no error bear no great step of the scale: all but a few would count as strange
    while scale > _NARROWER * error:
        c = fit(c, data, 1.5 * scale, 8)
        scale /= _NARROWER
    c = fit(c, data, 1.5 * scale, 6)
    rounds = max(rounds, _VALLEY if "coils" in c.values else 0)
    for _ in range(2):
        c = fit(c, clear_points(c, data), 1.5 * error, rounds, closely="coils" in c.values)
    return c


def _moved(found: EndFound, rival: Judged) -> float:
    """Return where a rival's body ends, in the frame that has moved to the best's."""
    return rival.candidate.delta - found.shift


def shape_of(found: EndFound) -> EndShape:
    """Return the end's wire; raises SpecError where it cannot be made."""
    return found.candidate.wire(found.data.end).shape


def _ranked(candidates: Iterable[Candidate], data: EndPoints, error: float) -> list[Judged]:
    found = [j for c in candidates if (j := judged(c, data, error)) is not None]
    return sorted(found, key=lambda j: j.total)


def _of_each(ranked: list[Judged], most: int) -> list[Judged]:
    """Return the best of each style."""
    chosen: dict[str, Judged] = {}
    for j in ranked:
        chosen.setdefault(j.candidate.style.name, j)
    return list(chosen.values())[:most]


def _as_well(best: Judged, others: list[Judged]) -> tuple[str, ...]:
    """Return the names of other styles, each once, that agree with the points as well."""
    alike = (j.candidate.style.name for j in others if j.total - best.total < _EQUAL)
    return tuple(name for name in dict.fromkeys(alike) if name != best.candidate.style.name)


def _freed(c: Candidate, data: EndPoints) -> Candidate | None:
    """Return the candidate with every parameter of its style free."""
    wire = built(c, data.end)
    if isinstance(wire, SpecError):
        return None
    all_of = wire.shape.as_built(c.style.parameters.model_fields)
    values = {**{k: float(v) for k, v in all_of.items() if not isinstance(v, str)}, **c.values}
    if len(values) == len(c.values):
        return None
    freed = replace(c, values=values)
    return None if isinstance(built(freed, data.end), SpecError) else freed


def _chosen(ranked: list[Judged], data: EndPoints) -> EndFound:
    best = ranked[0]
    equal = _as_well(best, ranked)
    near = best.chi2 * (1 + _RIVAL) + _EQUAL
    rivals = tuple(j for j in _of_each(ranked, 3)[1:] if j.chi2 < near)
    known = best.strange <= _STRANGE
    broken = tuple(
        j.candidate.style.name
        for j in _of_each(ranked, 99)[1:]
        if j.outside < best.outside and j.strange < _SURE and j.tip > _SHORT * data.wire
    )
    return EndFound(best, data, equal, known, rivals, best.candidate.delta, broken)

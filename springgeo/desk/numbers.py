"""What the page shows as numbers: at once by the handbook, then everything of the summary."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypedDict

from springgeo.computed import ComputedSpring
from springgeo.ends.protocol import BodyEnd
from springgeo.findings import Finding
from springgeo.fit import FitReport
from springgeo.message import Message
from springgeo.results.figure_names import GEOMETRY_WORDS, MARGIN_WORDS
from springgeo.results.handbook import WorkingPoint
from springgeo.specification.mating import Mating
from springgeo.summary import Summary
from springgeo.summary.drawn import geometry_facts
from springgeo.summary.verdict import way_words
from springgeo.text.naming import subject
from springgeo.text.shown import Shown, word
from springgeo.trade.limits import limits


class Row(TypedDict):
    """A number: ``value`` in the inside unit of its ``kind``."""

    key: str
    words: str
    kind: str
    value: float
    group: str
    way: str


class Tension(TypedDict):
    """The initial tension beside its preferred range: N, MPa."""

    index: float
    stress: float
    force: float
    low: float | None
    high: float | None
    assumed: bool


class Near(TypedDict):
    """What is there at once."""

    rows: list[Row]
    limits: dict[str, tuple[float, float]]
    tension: Tension
    loads: list[float]
    allowable: dict[str, float | None]


class Whole(TypedDict):
    """What the page shows of the summary."""

    rows: list[Row]
    findings: list[dict[str, str]]
    curve: list[list[float]]
    points: list[list[float]]
    straight: list[list[float]]
    coils: float
    verdict: dict[str, str]
    digest: str


_GEOMETRY = (
    "free_length",
    "mean_diameter",
    "outer_diameter",
    "index",
    "body_coils",
    "body_length",
    "hook_length_first",
    "hook_length_second",
    "wire_length",
    "mass",
)


def near(spring: ComputedSpring, shown: Shown) -> Near:
    """Return what needs no equilibrium, in a few milliseconds.

    ``rows`` of numbers (``key``, ``words``, ``kind``, ``value`` in the inside unit, ``group``),
    the initial tension beside its preferred range, and by key the ``limits`` that follow from the
    other values.
    """
    book = spring.along_the_wire.book
    facts = geometry_facts(book)
    tension = book.initial_tension
    rows = [
        _row(key, *GEOMETRY_WORDS[key], getattr(facts, key), "shape", shown) for key in _GEOMETRY
    ]
    rows += [
        _row("rate", word("rate, handbook"), "rate", book.rate, "load", shown),
        _row("tension", word("initial tension"), "force", tension.force, "load", shown),
        _row(
            "tension_stress",
            word("initial-tension stress (uncorrected)"),
            "stress",
            tension.stress,
            "load",
            shown,
        ),
    ]
    loads = sorted(spring.spec.service.loads)
    for i, load in enumerate(loads, start=1):
        rows += list(_book_margins(i, book.point(load, spring.free_length), shown))
    return {
        "rows": rows,
        "limits": _limits(spring),
        "tension": {
            "index": facts.index,
            "stress": tension.stress,
            "force": tension.force,
            "low": tension.preferred_low,
            "high": tension.preferred_high,
            "assumed": tension.assumed,
        },
        "loads": loads,
        "allowable": book.allowable.model_dump(),
    }


def whole(spring: ComputedSpring, shown: Shown) -> Whole:
    """Return everything of the summary that the page shows, and the fit where parts are named."""
    s = spring.summary()
    mating = spring.spec.mating
    fit = None if mating is None or mating == Mating() else spring.fit(states=2)
    found = [*s.findings, *(() if fit is None else fit.findings)]
    return {
        "rows": [*_points(s, shown), *_mounted(s, shown), *_others(s, shown)],
        "findings": [_finding(f, shown) for f in found if f.topic == "design"],
        "curve": [[p.load, p.length, p.rate, p.parted] for p in s.load_line.curve],
        "points": [
            [p.load, p.length]
            for p in s.mounted or s.along_the_wire.points
            if p.load >= 0  # what is shown is pulled
        ],
        "straight": [[p.load, p.length] for p in s.load_line.handbook],
        "coils": 0.0 if s.contact is None else s.contact.coils,
        "verdict": _verdict(s, fit, shown, warned=any(f.severity != "note" for f in found)),
        "digest": s.digest(),
    }


def _verdict(s: Summary, fit: FitReport | None, shown: Shown, *, warned: bool) -> dict[str, str]:
    """Return the verdict in words, and how it is coloured: as on the report's page."""
    if s.verdict is None:
        kind, words = "care", shown.say("No working loads are given.")
    else:
        kind = {"fails": "bad", "holds": "care" if warned else "good"}.get(
            s.verdict.outcome, "care"
        )
        told = shown.text(s.verdict.words)
        words = told[:1].upper() + told[1:] + "."
    if fit is not None:
        kind = kind if fit.ok else "bad"
        more = "It fits its mating parts." if fit.ok else "It does not fit its mating parts."
        words = f"{words} {shown.text(more)}"
    return {"kind": kind, "words": words}


def _book_margins(i: int, point: WorkingPoint, shown: Shown) -> Iterator[Row]:
    for key, words in MARGIN_WORDS.items():
        value = getattr(point.margin, key)
        if value is not None:
            yield _row(f"book.{i}.{key}", words, "number", value, f"F{i}", shown, "handbook")


def _points(s: Summary, shown: Shown) -> Iterator[Row]:
    for i, (book, wire) in enumerate(zip(s.points, s.along_the_wire.points, strict=True), start=1):
        group = f"F{i}"
        yield _row(f"load.{i}", word("load"), "force", wire.load, group, shown)
        yield _row(f"length.{i}", word("length inside hooks"), "length", wire.length, group, shown)
        for key, words in MARGIN_WORDS.items():
            for way, point, name in (("handbook", book, "book"), ("along the wire", wire, "wire")):
                value = getattr(point.margin, key)
                if value is not None:
                    yield _row(f"{name}.{i}.{key}", words, "number", value, group, shown, way)


def _mounted(s: Summary, shown: Shown) -> Iterator[Row]:
    """Yield the working points as mounted; those that bear nothing are left out: the first."""
    way = way_words("along the wire", as_mounted=True)
    for i, p in enumerate(s.mounted, start=1 + len(s.points) - len(s.mounted)):
        group, there = f"F{i}", word("as mounted")
        yield _row(f"there.load.{i}", word("load"), "force", p.load, group, shown, there)
        words = word("length inside hooks")
        yield _row(f"there.length.{i}", words, "length", p.length, group, shown, there)
        for key, margin in MARGIN_WORDS.items():
            value = getattr(p.margin, key)
            if value is not None:
                yield _row(f"there.{i}.{key}", margin, "number", value, group, shown, way)


def _others(s: Summary, shown: Shown) -> Iterator[Row]:
    yield _row("rate_small", word("rate, small load"), "rate", s.rates.small_load, "load", shown)
    if s.rates.between_points is not None:
        words = word("rate between working points")
        yield _row("rate_between", words, "rate", s.rates.between_points, "load", shown)
    stop = s.pull
    yield _row("stop", word("travel stop at"), "length", stop.travel_stop, "life", shown)
    words = word("load at the travel stop")
    yield _row("stop_load", words, "force", stop.travel_stop_load, "life", shown)
    if stop.mounted is not None:
        words = word("travel stop as mounted at")
        yield _row("stop_mounted", words, "length", stop.mounted.length, "life", shown)
    if s.fatigue is not None and s.fatigue.margin is not None:
        words = word("least fatigue factor")
        yield _row("fatigue", words, "number", s.fatigue.margin, "life", shown)
    if s.fatigue is not None and s.fatigue.cycles is not None:
        yield _row("cycles", word("cycles"), "number", s.fatigue.cycles, "life", shown)
    words = word("natural frequency")
    f = s.dynamics.natural_frequency_both_held
    yield _row("frequency", words, "frequency", f, "life", shown)


def _row(
    key: str, words: Message, kind: str, value: float, group: str, shown: Shown, way: str = ""
) -> Row:
    return {
        "key": key,
        "words": shown.text(words),
        "kind": kind,
        "value": value,
        "group": group,
        "way": shown.text(way),
    }


def _finding(f: Finding, shown: Shown) -> dict[str, str]:
    return {
        "severity": f.severity,
        "field": f.field,
        "subject": shown.text(subject(f.field)),
        "message": shown.text(f.message),
        "code": f.code,
    }


def findings_shown(found: tuple[Finding, ...], shown: Shown) -> list[dict[str, str]]:
    """Return findings as the page shows them."""
    return [_finding(f, shown) for f in found]


def _limits(spring: ComputedSpring) -> dict[str, tuple[float, float]]:
    """Return limits in inside units that follow from the wire and the styles."""
    d = spring.model.body.wire_diameter
    low, high = (c * d for c in limits()["index"])
    pitch = tuple(c * d for c in limits()["pitch"])
    found = {
        "body.mean_diameter": (low, high),
        "body.outer_diameter": (low + d, high + d),
        "body.inner_diameter": (low - d, high - d),
        "body.pitch": (pitch[0], pitch[1]),
    }
    body = spring.model.body
    end = BodyEnd(d, body.coil_radius, body.pitch)
    for bent in (spring.model.first, spring.model.second):
        for name, (a, b) in bent.style.ranges(end).items():
            found[f"ends.{bent.side}.{name}"] = (float(a), float(b))
    return found

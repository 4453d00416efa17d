"""A page without a server: every combination of a few values computed before, moved by sliders."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from itertools import product
from math import prod

from springgeo.computed import ComputedSpring
from springgeo.desk.numbers import findings_shown, near, whole
from springgeo.desk.page import GROUPS, reader_data
from springgeo.errors import SpecError
from springgeo.findings import error
from springgeo.message import Message
from springgeo.report.controls import scale_of
from springgeo.report.document import asset, document, json_of
from springgeo.report.html import render
from springgeo.report.stroke import Stroke, limit_load
from springgeo.report.value import Values
from springgeo.report.view import view_data
from springgeo.results.facts import CAUTIONS
from springgeo.specification.change import changed
from springgeo.text.naming import subject
from springgeo.text.shown import Shown, together

# sliders, and combinations of their places
MOST_KEYS, MOST = 3, 150
# bytes of all states; the scripts and styles come to some 0.15 MB
_ROOM = 4_500_000
# how far facets may lie off the wire, in wire diameters, tried in this order until there is room
_CHORDS = (0.03, 0.05, 0.08, 0.12, 0.18, 0.27, 0.4)
_SCRIPTS = ("dom", "plot", "numbers", "stage_view", "explore")


def explored(
    spring: ComputedSpring,
    vary: Mapping[str, Sequence[object]],
    shown: Shown,
    told: Callable[[str], object] = lambda _step: None,
) -> str:
    """Return the page.

    Parameters
    ----------
    spring : ComputedSpring
    vary : mapping of str to sequence
        One to three keys with their values, as a file may hold them.
    shown : Shown
    told : callable
        Is told each combination as it is begun.

    Raises
    ------
    SpecError
        Too many keys or combinations, or none of them is a spring.
    """
    _require_few(vary)
    keys = list(vary)
    places = list(product(*vary.values()))
    every = [_member(spring, dict(zip(keys, at, strict=True)), told) for at in places]
    good = [s for s in every if isinstance(s, ComputedSpring)]
    if not good:
        raise SpecError(f for s in every[:1] if isinstance(s, SpecError) for f in s.findings)
    chord = _chord(good[0], len(good), shown)
    states = [_state(s, chord, shown) for s in every]
    v = Values({}, shown)
    data = reader_data(v) | {
        "keys": [
            {"key": k, "words": v.text(_named(k)), "values": [_typed(x) for x in vary[k]]}
            for k in keys
        ],
        "grid": states,
        "start": [len(values) // 2 for values in vary.values()],
    }
    return document(
        v.say("{name}: to try out", name=spring.spec.name),
        render(
            "explore",
            "springgeo.desk",
            name=spring.spec.name,
            say=v.say,
            count=len(places),
            cautions=[v.text(t) for t in CAUTIONS],
            **scale_of(v),
        ),
        {"view-data": json_of(data)},
        shown.language,
        script="".join(asset(f"{name}.js", "springgeo.desk") for name in _SCRIPTS),
        style=asset("desk.css", "springgeo.desk"),
    )


def _named(key: str) -> Message:
    """Return a key in words; "diameter" alone would not say whose."""
    section = key.partition(".")[0]
    if section not in ("wire", "body"):
        return subject(key)
    return together(GROUPS[section], subject(key), by=", ")


def _require_few(vary: Mapping[str, Sequence[object]]) -> None:
    count = prod(len(values) for values in vary.values())
    if not 1 <= len(vary) <= MOST_KEYS or not all(vary.values()):
        text = f"{len(vary)} keys with values are given; give one to {MOST_KEYS}"
        raise SpecError(error("explore-keys", "explore", text))
    if count > MOST:
        text = f"{count} combinations are more than {MOST}; give fewer values"
        raise SpecError(error("explore-many", "explore", text))


def _member(
    spring: ComputedSpring, values: Mapping[str, object], told: Callable[[str], object]
) -> ComputedSpring | SpecError:
    """Return one combination, computed, or why there is none."""
    told(", ".join(f"{k} {_typed(x)}" for k, x in values.items()))
    try:
        member = ComputedSpring(changed(spring.spec, values))
        member.summary()
    except SpecError as exc:
        return exc
    return member


def _state(member: ComputedSpring | SpecError, chord: float, shown: Shown) -> dict[str, object]:
    if isinstance(member, SpecError):
        return {"refused": findings_shown(member.findings, shown)}
    full = whole(member, shown)
    return {
        "rows": [*near(member, shown)["rows"], *full["rows"]],
        "verdict": full["verdict"],
        "curve": [[round(x, 5) for x in p] for p in full["curve"]],
        # the shapes are pulled straight, and say so where the spring is mounted otherwise
        "points": [[p.load, p.length] for p in member.summary().along_the_wire.points],
        "way": "straight" if member.is_mounted else "",
        "view": _view(member, chord, shown),
    }


def _view(member: ComputedSpring, chord: float, shown: Shown) -> Mapping[str, object]:
    """Return the shape free and under its highest load; the page mixes the two."""
    points = member.summary().along_the_wire.points
    load = points[-1].load if points else limit_load(member.summary())
    last = member.at(load=load)
    stroke = Stroke((member.free, last), (), last.load, "")
    return view_data(member, stroke, shown, chord)


def _chord(member: ComputedSpring, count: int, shown: Shown) -> float:
    """Return the finest facets for which as many springs as this one have room."""
    for chord in _CHORDS:
        if count * len(json_of(_state(member, chord, shown))) <= _ROOM:
            return chord
    return _CHORDS[-1]


def _typed(value: object) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)

"""What is told to help does: each cure is carried out, and the stress it is told of falls.

Springs are drawn over their stops, by load and by length; both ways of computing are asked.
"""

from __future__ import annotations

import copy
import itertools
from collections.abc import Callable
from typing import Any

import pytest

import springgeo as sg
from springgeo.summary.sections import Sections
from springgeo.text.shown import Shown
from tests.gate import thinned

Spec = dict[str, Any]
# hand, wire, index, coils, ends
SPRINGS = [
    ("right", 1.0, 7.0, 12.25, "full-twisted-loop", "v-hook"),
    ("left", 0.6, 11.0, 20.0, "machine-half-loop", "raised-hook"),
    ("left", 2.2, 5.5, 9.4, "hook-at-side", "extended-hook"),
    ("right", 1.4, 9.0, 30.7, "reduced-full-loop", "full-loop-at-side"),
    ("right", 3.0, 6.0, 7.0, "small-eye-at-side", "english-loop"),
    ("left", 0.45, 8.0, 15.5, "short-twisted-loop", "long-square-end-hook"),
]
OVER, LESS = 1.3, 0.95


def changed(path: str, how: Callable[[float], float]) -> Callable[[Spec], Spec]:
    def other(spec: Spec) -> Spec:
        out = copy.deepcopy(spec)
        *rooms, last = path.split(".")
        at = out
        for room in rooms:
            at = at[room]
        value = at[last]
        at[last] = [how(x) for x in value] if isinstance(value, list) else how(value)
        return out

    return other


def bends_enlarged(spec: Spec) -> Spec:
    out = copy.deepcopy(spec)
    facts = sg.Spring.from_dict(spec).sections.geometry
    for side in ("first", "second"):
        out["ends"][side]["bend_radius"] = 1.04 * getattr(facts, f"bend_radius_{side}")
    return out


THICKER = changed("wire.diameter", lambda d: 1.04 * d)
SMALLER = changed("body.mean_diameter", lambda D: LESS * D)
COILS = changed("body.coils", lambda n: 1.08 * n)
TENSION = changed("body.initial_tension", lambda F: 0.9 * F)
LOWER = changed("service.loads", lambda F: LESS * F)


def shorter(spec: Spec) -> Spec:
    free = sg.Spring.from_dict(spec).sections.geometry.free_length
    return changed("service.lengths", lambda L: free + LESS * (L - free))(spec)


def shortest(spec: Spec) -> Spec:
    out = shorter(spec)
    out["service"]["lengths"][0] = spec["service"]["lengths"][0]
    return out


def lowest(spec: Spec) -> Spec:
    out = LOWER(spec)
    out["service"]["loads"][0] = spec["service"]["loads"][0]
    return out


# every cure there is, with all that it tells
CURES = {
    "use thicker wire or a smaller coil, or lower the load": (THICKER, SMALLER, LOWER),
    "enlarge bend_radius, use thicker wire, or lower the load": (bends_enlarged, THICKER, LOWER),
    "use more coils or less initial tension, or a shorter length": (COILS, TENSION, shorter),
    "enlarge bend_radius, use more coils, or a shorter length": (bends_enlarged, COILS, shorter),
    "lower the highest load, or use thicker wire": (lowest, THICKER),
    "shorten the longest length, or use more coils": (shortest, COILS),
}
KINDS = {"body": "body_shear", "hook bending": "hook_bending", "hook torsion": "hook_torsion"}


def spec_of(case: tuple[Any, ...], by: str) -> Spec:
    hand, d, C, n, first, second = case
    spec: Spec = {
        "wire": {"material": "astm-a228", "diameter": d},
        "body": {"mean_diameter": C * d, "coils": n, "hand": hand},
        "ends": {"first": {"style": first}, "second": {"style": second}},
        "service": {"duty": "cyclic", "cycles": 1e6},
    }
    plain = sg.Spring.from_dict(spec).sections
    spec["body"]["initial_tension"] = float(plain.initial_tension.force)
    loads = [OVER * LESS**2 * plain.pull.travel_stop_load, OVER * plain.pull.travel_stop_load]
    curve = sg.Spring.from_dict(spec).sections.book.curve
    spec["service"][by] = loads if by == "loads" else [curve.length(x) for x in loads]
    return spec


def margin(found: Sections, code: str, kind: str) -> float:
    """Return the margin that a finding is about, at the highest point."""
    if code == "fatigue":
        value = found.fatigue.margin
    elif code == "overstressed":
        value = getattr(found.points[-1].margin, kind)
    else:
        value = getattr(found.along_the_wire.points[-1].margin, kind)
    assert value is not None
    return value


def carried_out(change: Callable[[Spec], Spec], spec: Spec) -> Sections | None:
    """Return the spring changed; None where a bend is as wide as it can be."""
    try:
        return sg.Spring.from_dict(change(spec)).sections
    except sg.SpecError as exc:
        if change is bends_enlarged and "bend_radius" in str(exc):
            return None
        raise


@pytest.mark.parametrize(("number", "by"), thinned(2, range(len(SPRINGS)), ["loads", "lengths"]))
def test_each_cure_that_is_told_helps(number: int, by: str) -> None:
    spec = spec_of(SPRINGS[number], by)
    found = sg.Spring.from_dict(spec).sections
    told = [f for f in found.findings if f.code in ("overstressed", "overstressed-along-wire")]
    told += [f for f in found.findings if f.code == "fatigue"]
    assert {"overstressed", "fatigue"} <= {f.code for f in told}
    for finding in told:
        text = Shown("mm").text(finding.message)
        assert finding.code == "fatigue" or finding.field == f"service.{by}"
        kind = next(v for k, v in KINDS.items() if text.startswith(k))
        before = margin(found, finding.code, kind)
        cure = text.rpartition("; ")[2]
        for change in CURES[cure]:
            after = carried_out(change, spec)
            if after is None:
                continue
            assert margin(after, finding.code, kind) > before * (1 + 1e-6), (text, cure)


def test_every_cure_is_tried() -> None:
    """None of the sentences is told of no spring above."""
    seen = set()
    for case, by in itertools.product(SPRINGS, ("loads", "lengths")):
        for f in sg.Spring.from_dict(spec_of(case, by)).sections.findings:
            if f.code in ("overstressed", "overstressed-along-wire", "fatigue"):
                seen.add(Shown("mm").text(f.message).rpartition("; ")[2])
    assert seen == set(CURES)


@pytest.mark.parametrize("by", ["loads", "lengths"])
def test_what_lies_below_the_initial_tension_is_told_by_what_is_given(by: str) -> None:
    spec = spec_of(SPRINGS[0], by)
    spec["service"] = {by: spec["service"][by]}
    tension = spec["body"]["initial_tension"]
    curve = sg.Spring.from_dict(spec).sections.book.curve
    low = 0.7 * tension
    spec["service"][by][0] = low if by == "loads" else curve.length(low)
    (told,) = (
        f
        for f in sg.Spring.from_dict(spec).sections.findings
        if f.code == "load-below-initial-tension"
    )
    assert told.field == f"service.{by}"
    text = Shown("mm").text(told.message)
    assert ("raise the load" in text) == (by == "loads")
    if by == "lengths":  # as it says, either helps
        longer = changed("service.lengths", lambda L: L + 0.3 * (spec["service"][by][1] - L))
        for other in (longer(spec), changed("body.initial_tension", lambda F: 0.5 * F)(spec)):
            after = sg.Spring.from_dict(other).sections
            assert "load-below-initial-tension" not in {f.code for f in after.findings}


def test_a_spring_that_fails_by_little_is_told_no_margin_of_one() -> None:
    """In every sentence: the verdict's, those of findings, and the wire's own."""
    spec = spec_of(SPRINGS[0], "loads")
    top = sg.Spring.from_dict(spec).sections.pull.travel_stop_load
    spec["service"] = {"loads": [0.5 * top, 1.002 * top]}
    found = sg.Spring.from_dict(spec).sections
    wire = found.along_the_wire.points[-1].verdict
    words = [Shown("mm").text(x) for x in (found.verdict.words, wire)]
    words += [Shown("mm").text(f.message) for f in found.findings]
    assert found.verdict.words.startswith("FAILS")
    assert "0.998" in words[0]
    assert not [text for text in words if "margin 1.00" in text]

"""Signs of wear, overload or misreading that the readings show: one function per subject."""

from __future__ import annotations

from collections.abc import Iterator

from springgeo.findings import Finding, note, warning
from springgeo.measure.line_fit import Interval, Line
from springgeo.summary import Summary

# gap between coils, in wire diameters, that still counts as closed
CLOSED = 0.02


def signs(
    s: Summary, line: Line, free: Interval, body: Interval | None, G: Interval, known: bool
) -> Iterator[Finding]:
    """Yield what the readings say about the state of the spring."""
    yield from _tension(s, line)
    yield from _body(s, body)
    yield from _free(s, free)
    yield from _line(line)
    if not known:
        yield warning(
            "modulus-unknown",
            "pulls",
            f"no wire of the library has a shear modulus of "
            f"{G.low:.0f} to {G.high:.0f} MPa at this size; check coils, diameters and "
            "loads, and whether the hooks are of the style named",
        )


def _tension(s: Summary, line: Line) -> Iterator[Finding]:
    low, t = s.initial_tension.preferred_low, line.tension
    if t.high <= 0:
        yield warning(
            "tension-negative",
            "pulls",
            f"the line meets the free length at "
            f"{t.value:.4g} N, below zero: the free length is read too short, or the "
            "body was stretched",
        )
    elif low is not None and s.initial_tension.stress < low:
        yield warning(
            "tension-lost",
            "pulls",
            f"the initial stress {s.initial_tension.stress:.4g} "
            f"MPa is below {low:.4g} MPa, where makers wind: heat or overload may have "
            "taken it",
        )


def _body(s: Summary, body: Interval | None) -> Iterator[Finding]:
    if body is None:
        return
    g = s.geometry
    gap = (body.value - body_closed(s)) / g.body_coils
    u = body.u / g.body_coils
    if gap > CLOSED * g.wire_diameter + 2 * u:
        yield warning(
            "body-open",
            "body_length",
            f"the body is {body.value:.5g} mm long, "
            f"{gap:.3g} mm more per coil than touching coils: it was stretched beyond "
            "its elastic range, or wound open",
        )
    elif gap < -CLOSED * g.wire_diameter - 2 * u:
        text = f"{body.value:.5g} mm is less than the {body_closed(s):.5g} mm its coils take"
        yield warning("body-short", "body_length", f"{text}; count the coils again")


def body_closed(s: Summary) -> float:
    """Return the length of touching coils, (N_b + 1) d, mm."""
    return (s.geometry.body_coils + 1) * s.geometry.wire_diameter


def _free(s: Summary, free: Interval) -> Iterator[Finding]:
    model = s.free_length.model
    if abs(free.value - model) > 0.05 * model + 2 * free.u:
        yield note(
            "hooks-differ",
            "hooks",
            f"the free length read is {free.value:.5g} mm, with "
            f"the hooks named it would be {model:.5g} mm; name the true style, or give "
            "hook_length",
        )


def _line(line: Line) -> Iterator[Finding]:
    if abs(line.bend) > 4:
        way = "softer" if line.bend < 0 else "stiffer"
        yield warning(
            "line-bent",
            "pulls",
            f"the spring grows {way} with length (quadratic term "
            f"{abs(line.bend):.2g} times its uncertainty): coils that set, rub or do not "
            "open together",
        )
    if line.scatter > 3:
        yield warning(
            "scatter",
            "pulls",
            f"the loads scatter {line.scatter:.2g} times as much as "
            "their uncertainty; friction in the rig, or a misreading",
        )

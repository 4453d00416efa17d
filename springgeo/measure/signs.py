"""Signs of wear, overload or misreading that the readings show: one function per subject."""

from __future__ import annotations

from collections.abc import Iterator

from springgeo.findings import Finding, note, warning
from springgeo.measure.line_fit import Interval, Line
from springgeo.summary import Summary
from springgeo.text import quantity as q
from springgeo.text.shown import said, word

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
            said(
                "no wire of the library has a shear modulus of {low} to {high} at this size; check "
                "coils, diameters and loads, and whether the hooks are of the style named",
                low=q.stress(G.low, places=0, unit=False),
                high=q.stress(G.high, places=0),
            ),
        )


def _tension(s: Summary, line: Line) -> Iterator[Finding]:
    low, t = s.initial_tension.preferred_low, line.tension
    if t.high <= 0:
        yield warning(
            "tension-negative",
            "pulls",
            said(
                "the line meets the free length at {load}, below zero: the free length is read too "
                "short, or the body was stretched",
                load=q.force(t.value),
            ),
        )
    elif low is not None and s.initial_tension.stress < low:
        yield warning(
            "tension-lost",
            "pulls",
            said(
                "the initial stress {stress} is below {low}, where makers wind: heat or overload "
                "may have taken it",
                stress=q.stress(s.initial_tension.stress),
                low=q.stress(low),
            ),
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
            said(
                "the body is {length} long, {gap} more per coil than touching coils: it was "
                "stretched beyond its elastic range, or wound open",
                length=q.length(body.value, 5),
                gap=q.length(gap, 3),
            ),
        )
    elif gap < -CLOSED * g.wire_diameter - 2 * u:
        text = said(
            "{length} is less than the {closed} its coils take; count the coils again",
            **q.lengths(5, length=body.value, closed=body_closed(s)),
        )
        yield warning("body-short", "body_length", text)


def body_closed(s: Summary) -> float:
    """Return the length of touching coils, (N_b + 1) d, mm."""
    return (s.geometry.body_coils + 1) * s.geometry.wire_diameter


def _free(s: Summary, free: Interval) -> Iterator[Finding]:
    model = s.free_length.model
    if abs(free.value - model) > 0.05 * model + 2 * free.u:
        yield note(
            "hooks-differ",
            "hooks",
            said(
                "the free length read is {read}, with the hooks named it would be {model}; name "
                "the true style, or give hook_length",
                **q.lengths(5, read=free.value, model=model),
            ),
        )


def _line(line: Line) -> Iterator[Finding]:
    if abs(line.bend) > 4:
        way = word("softer") if line.bend < 0 else word("stiffer")
        yield warning(
            "line-bent",
            "pulls",
            said(
                "the spring grows {way} with length (quadratic term {times} times its "
                "uncertainty): coils that set, rub or do not open together",
                way=way,
                times=q.number(abs(line.bend), 2),
            ),
        )
    if line.scatter > 3:
        yield warning(
            "scatter",
            "pulls",
            said(
                "the loads scatter {times} times as much as their uncertainty; friction in the "
                "rig, or a misreading",
                times=q.number(line.scatter, 2),
            ),
        )

"""Fitted ends in the calculation: no hook stress, held coils inactive, the same body."""

from __future__ import annotations

import pytest

from tests.springs import asked

from .springs import FITTED, spring


@pytest.mark.parametrize("style", FITTED)
def test_held_coils_are_in_all_coils_and_not_in_the_active(style: str) -> None:
    # EN 13906-2 as quoted by spring makers: screwed-in and rolled-in ends, n < n_t
    s = asked(spring(style, style))
    assert s.active_coils == s.geometry.body_coils == pytest.approx(12)
    assert s.geometry.total_coils > s.active_coils + 4
    held = {f.code for f in s.findings if f.field.startswith("ends.")}
    assert {"pull-out", "held-coils"} <= held


@pytest.mark.parametrize("style", FITTED)
def test_the_body_is_stressed_as_between_plain_ends(style: str) -> None:
    made, plain = spring(style, style), asked(spring("plain", "plain"))
    fitted = asked(made)
    assert fitted.along_the_wire.rate == pytest.approx(plain.along_the_wire.rate, rel=1e-9)
    # per newton to 1e-6: near a joint the smoothed curvature feels the wire beyond
    drawn = [
        [p.per_newton for p in s.along_the_wire.peaks if (p.region, p.kind) == ("body", "shear")]
        for s in (fitted, plain)
    ]
    assert drawn[0] == pytest.approx(drawn[1], rel=1e-6)
    # loaded, a plug or shackle is an end held against turning, and no more than that
    held = made.model.first.style.turning == "held"
    mounts = {f"mating.{side}.holding": "held" for side in ("first", "second")} if held else {}
    alike = spring("plain", "plain").with_(mounts)
    if held:  # wound as it is measured, by its ends' styles: so that coils press alike
        press = [asked(s).contact.pressing_free for s in (made, alike)]
        tension = f"{asked(made).initial_tension.force * press[0] / press[1]!r} N"
        alike = spring("plain", "plain", initial_tension=tension).with_(mounts)
    others = asked(alike).along_the_wire.points
    for a, b in zip(fitted.along_the_wire.points, others, strict=True):
        # a swivel's point of pull lies far out: the turn beside it tilts a little more
        assert a.body_shear == pytest.approx(b.body_shear, rel=1e-6 if held else 0.04)
        assert a.hook_bending is a.hook_torsion is None
    assert {p.region for p in fitted.along_the_wire.peaks} == {"body"}
    assert all(p.hook_bending is p.hook_torsion is None for p in fitted.points)


@pytest.mark.parametrize("style", FITTED)
def test_the_other_end_keeps_its_hook(style: str) -> None:
    mixed, both = spring(style, "full-twisted-loop"), spring("full-twisted-loop", "plain")
    one, other = asked(mixed), asked(both)
    a, b = (s.along_the_wire.points[-1] for s in (one, other))
    # the other end turns otherwise, and the hook with it a little
    assert a.hook_bending == pytest.approx(b.hook_bending, rel=2e-3)
    assert one.active_coils == pytest.approx(other.active_coils)


@pytest.mark.parametrize("style", FITTED)
def test_lengths_add_up(style: str) -> None:
    s = spring(style, style)
    g, facts = s.model.geometry, asked(s).geometry
    assert facts.free_length == pytest.approx(
        facts.hook_length_first + facts.body_length + facts.hook_length_second
    )
    assert facts.overall_length == pytest.approx(float(g.box[1, 2] - g.box[0, 2]), abs=1e-9)
    assert [p.name for p in asked(s).parts] == [p.name for p in g.parts]

"""A pin in the loop of a swivel: the swivel's rod is the hook, the wire its neighbour."""

from __future__ import annotations

import pytest

import springgeo as sg
from springgeo.cad.parts import placed_parts
from springgeo.fit.held_hook import held_hook
from springgeo.fit.seat import end_frame


def spring(a: str, b: str, pin: float = 4.0) -> sg.Spring:
    mate = {"pin": {"diameter": pin, "length": 12}}
    return sg.Spring.from_dict(
        {
            "name": "swivels",
            "wire": {"material": "astm-a228", "diameter": 1.6},
            "body": {"mean_diameter": 14, "coils": 14, "initial_tension": 14},
            "ends": {"first": {"style": a}, "second": {"style": b}},
            "service": {"loads": [20, 45]},
            "mating": {"first": mate, "second": mate},
        }
    )


def test_distances_are_the_kernel_s() -> None:
    s = spring("coned-swivel-hook", "coned-swivel-eye")
    report = s.fit(states=2)
    assert report.verdict == "fits"
    last = report.states[-1]
    state = s.at(length=last.length)
    solids = {p.name: p.in_place for p in placed_parts(state, s.spec.mating)}
    for side in ("first", "second"):
        end, pin = getattr(last, side), solids[f"pin_{side}"]
        assert end.hook.distance == pytest.approx(pin.distance(solids[f"{side}_swivel"]), abs=1e-6)
        assert end.neighbour.distance == pytest.approx(pin.distance(solids["spring"]), abs=1e-4)
        assert end.hold == "captive"


@pytest.mark.parametrize("side", ["first", "second"])
def test_the_contact_is_the_apex(side: str) -> None:
    g = spring("coned-swivel-hook", "coned-swivel-eye").model.geometry
    hook, frame = held_hook(g, side), end_frame(g, side)
    assert hook is not None
    assert frame is not None
    assert hook.length == pytest.approx(g.length)
    assert frame.origin == pytest.approx([0, 0, 0 if side == "first" else g.length])
    # inside radius of the bent rod: 1.2 R less the shank, R the coil's radius, in diameter
    shank = hook.wire_diameter
    assert 2 * frame.inside == pytest.approx(max(1.6 * shank, 1.2 * 7 - shank))


def test_a_pin_too_large_and_a_fitting_that_is_not_examined() -> None:
    codes = [
        f.code for f in spring("coned-swivel-eye", "coned-swivel-eye", 9.0).fit(states=2).findings
    ]
    assert codes == ["pin-larger-than-loop"]
    found = spring("threaded-plug", "screwed-in-shackle").fit(states=2).findings
    assert [f.code for f in found if f.severity == "error"] == ["no-hook", "no-hook"]
    assert "plug" in found[0].message or "shackle" in found[0].message

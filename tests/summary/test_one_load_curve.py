"""Every output has the same length for a load: that of the one load curve."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from springgeo.api import Spring
from springgeo.drawing.diagram import points_drawn
from springgeo.plots.load_length import chart
from springgeo.report.stroke import stroke_of
from springgeo.results.loaded import length_between
from tests.springs import asked, kept

WIRE = {"material": "music-wire", "diameter": 1.0}


def spring(style: str, service: dict[str, Any], **body: Any) -> Spring:
    return Spring.from_dict(
        {
            "name": "one curve",
            "wire": WIRE,
            "body": {"mean_diameter": 9.0, "coils": 8.25, "initial_tension": 3.0} | body,
            "ends": {"first": {"style": style}, "second": {"style": "full-twisted-loop"}},
            "service": service,
        }
    )


@pytest.mark.parametrize(
    ("style", "service", "body"),
    [
        # below and above the initial tension
        ("machine-half-loop", {"loads": [2.0, 11.0]}, {}),
        ("full-loop-at-side", {"loads": [4.0], "lengths": [40.0]}, {}),
        ("raised-hook", {"lengths": [36.0, 41.5]}, {"coils": 10.5}),
        ("full-twisted-loop", {"loads": [9.0]}, {"pitch": 1.3, "initial_tension": None}),
    ],
)
def test_all_outputs_have_one_length(
    style: str, service: dict[str, Any], body: dict[str, Any]
) -> None:
    made = spring(style, service, **body)
    s = made.summary()
    for length in service.get("lengths", ()):
        assert length in [p.length for p in s.points]
    for load in service.get("loads", ()):
        assert load in [p.load for p in s.points]
    drawn = [p for _, p in points_drawn(s)]
    (marks,) = [x for x in chart(s).items if type(x).__name__ == "Marks"]
    stops = [x for x in stroke_of(made).stops if x.name.startswith("F")]
    for k, point in enumerate(s.points):
        state = made.at(load=point.load)
        assert made.at(length=point.length).load == pytest.approx(point.load, rel=1e-6)
        for length in (
            s.along_the_wire.points[k].length,
            s.load_line.along_the_wire[2 + k].length,
            drawn[k].length,
            marks.points[k][0],
            stops[k].length,
            length_between(s.load_line.curve, point.load),
            state.length,
        ):
            assert length == pytest.approx(point.length, rel=1e-7)


@pytest.mark.parametrize("style", ["full-loop-at-side", "machine-half-loop"])
def test_told_points_give_the_whole_curve(style: str) -> None:
    """Between its points the told curve is within a twentieth of the wire, and it rises."""
    made = spring(style, {"loads": [6.0, 15.0]}, coils=14.0)
    told, curve = asked(made).load_line.curve, made.load_curve
    loads = np.linspace(0.05, 15.0, 31)
    lengths = [length_between(told, float(x)) for x in loads]
    off = [abs(a - curve.length(float(x))) for a, x in zip(lengths, loads, strict=True)]
    assert max(off) < 0.05 * made.model.geometry.wire_diameter
    assert (np.diff(lengths) > 0).all()


def test_side_loops_bow_and_say_so() -> None:
    made = Spring.from_dict(
        {
            "name": "side loops",
            "wire": WIRE,
            "body": {"mean_diameter": 12.0, "coils": 20},
            "ends": {k: {"style": "full-loop-at-side"} for k in ("first", "second")},
            "service": {"loads": [10, 20]},
        }
    )
    s = asked(made)
    assert "pull-off-axis" in {f.code for f in s.findings}
    assert all(x.bow > s.geometry.wire_diameter for x in s.lean)
    # a straight pull through free pins: neither side force nor moment
    assert max(*s.pins.first.side_force, *s.pins.second.moment) < 1e-9
    assert s.contact is not None
    assert s.contact.pressing_free < (s.contact.last_parts_at or 0.0) < 10
    assert s.contact.parted == pytest.approx((19.0, 19.0))
    # once the pull runs near the axis, it is as stiff as the textbook's centred spring
    assert s.rates.between_points == pytest.approx(s.rates.handbook, rel=0.02)
    assert s.rates.small_load < 0.6 * s.rates.handbook


def test_a_point_below_the_initial_tension_has_no_share_in_the_rate() -> None:
    """The chord from 4 N, where hooks give alone, would be 13 per cent above the handbook's."""
    above = kept("gate-latch").with_({"service.loads": [20, 34]})
    below = above.with_({"service.loads": [4, 20, 34]})
    rate = asked(below).rates.between_points
    assert rate == pytest.approx(asked(above).rates.between_points, rel=1e-6)
    assert rate == pytest.approx(asked(below).rates.handbook, rel=0.03)
    assert asked(above.with_({"service.loads": [4, 20]})).rates.between_points is None


@pytest.mark.parametrize(
    ("first", "coils"), [("hook-at-side", 3.37), ("plain", 2.61), ("machine-half-loop", 2.5)]
)
def test_tilt_and_bow_are_those_of_the_centreline(first: str, coils: float) -> None:
    """Middles of turns from dense points, also where a turn ends between two nodes."""
    made = Spring.from_dict(
        {
            "wire": WIRE,
            "body": {"mean_diameter": 12.0, "coils": coils, "pitch": 2.0, "hand": "left"},
            "ends": {"first": first, "second": "machine-half-loop"},
            "service": {"loads": [8.0]},
        }
    )
    told = asked(made).lean[0]
    path = made.at(load=8.0).centreline
    (body,) = [(s, s + p.segment.length) for p, s in path if p.role == "body"]
    around = (body[1] - body[0]) / coils
    starts = np.linspace(body[0], body[1] - around, max(2, int(2 * coils) - 1))
    steps = around * (np.arange(600) + 0.5) / 600
    middle = np.array([path.point(s + steps).mean(axis=0) for s in starts])
    along = middle[-1] - middle[0]
    along /= np.linalg.norm(along)
    bow = np.linalg.norm(np.cross(middle - middle[0], along), axis=1).max()
    assert told.tilt == pytest.approx(np.degrees(np.arccos(abs(along[2]))), abs=0.01)
    assert told.bow == pytest.approx(bow, abs=3e-3)

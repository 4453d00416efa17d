"""The whole spring's closed forms and its frame, against points sampled on the path."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad

from springgeo.curve import tube_box
from springgeo.specification.load import presets, read_preset, spec_of
from springgeo.specification.wire import Hand
from springgeo.spring.geometry import Geometry
from springgeo.spring.model import SpringModel

D, MEAN, COILS = 1.2, 9.6, 11.3
# four that differ in kind; tests/ends measures every registered style
HOOKS = ["full-twisted-loop", "machine-half-loop", "raised-hook", "short-twisted-loop"]


def spring(
    a: str, b: str | None = None, *, hand: Hand = "right", angle: str | None = None, **body: object
) -> Geometry:
    """Return the geometry of a spring of index 8 with the default ends named."""
    return SpringModel.of(
        spec_of(
            {
                "wire": {"diameter": D},
                "body": {"mean_diameter": MEAN, "coils": COILS, "hand": hand, **body},
                "ends": {"first": {"style": a}, "second": {"style": b or a}, "angle": angle},
            }
        )
    ).geometry


def loop_points(g: Geometry, side: str) -> np.ndarray:
    """Return points of one loop in the order of the path, ``(n, 3) mm``."""
    return np.concatenate(
        [
            p.segment.point(np.linspace(0, p.segment.length, 200))
            for p in g.path.pieces
            if p.role == "loop" and p.label.startswith(side)
        ]
    )


def test_wire_of_a_plain_body() -> None:
    g = spring("plain")
    assert g.path.length == pytest.approx(COILS * math.hypot(math.pi * MEAN, g.pitch), rel=1e-14)


@pytest.mark.parametrize("style", HOOKS)
def test_wire_length_is_the_integral_of_its_speed(style: str) -> None:
    """Reference: scipy's adaptive quadrature of the speed of the points, by differences."""
    g = spring(style)
    h = 1e-4

    def speed(s: float) -> float:
        before, after = g.path.point(np.array([s - h, s + h]))
        return float(np.linalg.norm(after - before)) / (2 * h)

    total = 0.0
    for piece, start in g.path:
        part, _ = quad(speed, start + 2 * h, start + piece.segment.length - 2 * h)
        total += part + 4 * h
    assert g.path.length == pytest.approx(total, rel=1e-7)


@pytest.mark.parametrize("style", ["plain", "machine-half-loop", "raised-hook"])
@pytest.mark.parametrize("clearance", [0.0, 0.002, 0.02])
def test_body_length_beside_the_handbook(style: str, clearance: float) -> None:
    """Published: (N_b + 1) d (Shigley, sec. 10-11); the model is longer by the clearance."""
    g = spring(style, coil_clearance=clearance)
    assert g.body_length == pytest.approx(COILS * g.pitch + D, rel=1e-14)
    longer = (g.body_length - (COILS + 1) * D) / (COILS * D)
    # what the lead angle adds is below 0.1 % at an index of 8
    assert clearance <= longer < clearance + 0.001


def test_free_length_of_two_full_loops() -> None:
    """Published: L0 = (2 C − 1 + N_b) d (Shigley, eq. 10-39), with the pitch for one d per coil."""
    g = spring("full-twisted-loop")
    assert g.length == pytest.approx((2 * 8 - 1) * D + COILS * g.pitch, rel=1e-13)


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("a", HOOKS)
@pytest.mark.parametrize("b", [*HOOKS, "plain"])
def test_frame(hand: Hand, a: str, b: str) -> None:
    g = spring(a, b, hand=hand)
    s_a, s_b = g.contact_s
    assert s_a is not None
    # the centreline at the contact lies half a wire beyond the inside of the hook
    assert g.path.point(np.array([s_a]))[0] == pytest.approx([0, 0, -D / 2], abs=1e-12)
    assert g.contacts[0] == pytest.approx([0, 0, 0], abs=0)
    if s_b is not None:
        point = g.path.point(np.array([s_b]))[0]
        assert point == pytest.approx([0, 0, g.length + D / 2], abs=1e-11)
    assert g.contacts[1] == pytest.approx([0, 0, g.length], abs=0)
    loop = loop_points(g, "first")
    assert np.abs(loop[:, 1]).max() < 1e-12, "loop plane of A is XZ"
    # where the bend from the coil reaches that plane is the side its wire comes from
    bend = next(p for p in g.path.pieces if p.label == "first.bend").segment
    reached = bend.point(np.zeros(1))[0]
    assert reached[0] > 0.2 * MEAN
    assert reached[1] == pytest.approx(0.0, abs=1e-12)
    body = next(p for p in g.path.pieces if p.role == "body")
    ends = body.segment.point(np.array([0.0, body.segment.length]))
    assert ends[0, 2] < ends[1, 2], "+z runs from A to B"


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("a", [*HOOKS, "plain"])
@pytest.mark.parametrize("b", [*HOOKS, "plain"])
def test_overall_length_is_the_box(hand: Hand, a: str, b: str) -> None:
    g = spring(a, b, hand=hand)
    box = tube_box(g.path, D / 2)
    assert box[1, 2] - box[0, 2] == pytest.approx(g.overall_length, abs=1e-9)
    if "plain" not in (a, b):
        assert g.overall_length == pytest.approx(g.length + 2 * D, rel=1e-14)
        assert box[0, 2] == pytest.approx(-D, abs=1e-9)
        assert box[1, 2] == pytest.approx(g.length + D, abs=1e-9)


@pytest.mark.parametrize("name", presets())
def test_presets_pass_every_centreline_check(name: str) -> None:
    from springgeo.checks.centreline import centreline_checks

    checks = centreline_checks(SpringModel.of(read_preset(name)))
    assert {c.name for c in checks} >= {"tangent-jump", "joint-gap", "length-centreline"}
    assert [c.name for c in checks if not c.ok] == []
    assert len({c.name for c in checks}) == len(checks)

"""The data of the 3-D view against the centreline, the summary and plain mechanics."""

from __future__ import annotations

import base64

import numpy as np
import pytest

from springgeo import Spring
from springgeo.plots.points import marks
from springgeo.report.paint import KINDS, STRESSES
from springgeo.report.stroke import STATES, stroke_of
from springgeo.report.view import AROUND, MOST_RINGS, view_data
from springgeo.specification.load import presets
from springgeo.summary.handbook import Handbook
from tests.report.conftest import ODD, odd, spring_of
from tests.springs import kept

FITTED = {
    "wire": {"material": "astm-a228", "diameter": 2.0},
    "body": {"index": 8, "coils": 15, "hand": "left", "initial_tension": 20.0},
    "ends": {"first": {"style": "coned-swivel-eye"}, "second": {"style": "threaded-plug"}},
    "service": {"loads": [30.0, 60.0]},
}


class Decoded:
    """What the page's script reads out of the data."""

    def __init__(self, spring):
        self.spring, self.stroke = spring, stroke_of(spring)
        self.wires = [spring.along_the_wire.at(x.load) for x in self.stroke.states]
        self.data = d = view_data(spring, self.stroke)
        n = len(d["states"])
        rings = np.frombuffer(base64.b64decode(d["rings"]), "<i2").reshape(n, -1, 9).astype(float)
        self.centre = np.array(d["low"]) + np.array(d["span"]) * (rings[..., :3] + 32768) / 65535
        self.e1, self.e2 = rings[..., 3:6] / 32767, rings[..., 6:] / 32767
        self.arc = self.floats(d["arc"])
        self.greatest = {k: self.floats(v).reshape(n, -1) for k, v in d["stress"].items()}
        self.use = {k: self.floats(v).reshape(n, -1) for k, v in d["use"].items()}
        # at the end of the stroke
        self.corners = {
            k: np.frombuffer(base64.b64decode(v), "u1").reshape(-1, AROUND)
            * self.use[k][-1][:, None]
            / 255
            for k, v in d["corners"].items()
        }

    @staticmethod
    def floats(text):
        return np.frombuffer(base64.b64decode(text), "<f4").astype(float)

    def corner_points(self, state):
        angle = 2 * np.pi * np.arange(AROUND)[:, None] / AROUND
        across = np.cos(angle) * self.e1[state][:, None] + np.sin(angle) * self.e2[state][:, None]
        return self.centre[state][:, None] + self.data["radius"] * across


# of the presets every second; tests/report/test_page.py looks at the others
EVERY = [
    *(pytest.param(n, marks=() if k % 2 else pytest.mark.slow) for k, n in enumerate(presets())),
    *ODD,
]


@pytest.fixture(name="seen", scope="module", params=EVERY)
def _seen(request):
    return Decoded(spring_of(request.param))


def test_rings_lie_on_the_one_centreline_in_every_state(seen):
    for k, state in enumerate(seen.stroke.states):
        path = state.centreline
        s = seen.arc / seen.spring.centreline.length * path.length
        # 16 bits over the greatest span
        step = max(seen.data["span"]) / 65535
        assert np.abs(seen.centre[k] - path.point(s)).max() < step + 1e-5 * path.length
        along = path.tangent(s)
        for e in (seen.e1[k], seen.e2[k]):
            assert np.abs(np.sum(e * along, axis=1)).max() < 1e-3
        np.testing.assert_allclose(np.cross(along, seen.e1[k]), seen.e2[k], atol=1e-3)


def test_drawn_tube_has_nearly_the_volume_of_the_wire(seen):
    # a regular polygon of n corners has (n/2π) sin(2π/n) of its circle's area
    share = AROUND / (2 * np.pi) * np.sin(2 * np.pi / AROUND)
    for k in (0, -1):
        p = seen.corner_points(k)
        a, b = p[:-1], np.roll(p[:-1], -1, axis=1)
        c, d = p[1:], np.roll(p[1:], -1, axis=1)
        hub = seen.centre[k][[0, -1]]

        def volume(x, y, z):
            return np.sum(np.einsum("...i,...i", x, np.cross(y, z))) / 6

        sides = volume(a, b, d) + volume(a, d, c)
        first, last = p[0], p[-1]
        caps = volume(np.broadcast_to(hub[0], first.shape), np.roll(first, -1, axis=0), first)
        caps += volume(np.broadcast_to(hub[1], last.shape), last, np.roll(last, -1, axis=0))
        exact = np.pi * seen.data["radius"] ** 2 * seen.spring.centreline.length
        assert (sides + caps) / exact == pytest.approx(share, abs=0.01)


def test_between_states_a_straight_line_is_near_the_true_shape(seen):
    if len(seen.stroke.states) == 1:
        pytest.skip("its loads do not move this spring")
    d, at = seen.spring.model.geometry.wire_diameter, seen.data["states"]
    # half way through the first interval, where the coils have the most to do
    state = seen.spring.at(length=(at[0] + at[1]) / 2)
    s = seen.arc / seen.spring.centreline.length * state.centreline.length
    mixed = (seen.centre[0] + seen.centre[1]) / 2
    assert np.linalg.norm(mixed - state.centreline.point(s), axis=1).max() < 0.1 * d


def test_states_run_from_free_to_the_end_of_the_stroke(seen):
    at = seen.data["states"]
    assert at[0] == seen.spring.free_length
    assert at == sorted(at)
    assert len(at) == 1 or STATES - 4 <= len(at) <= STATES + len(seen.data["stops"])
    # stops are told from states of their own
    for stop in seen.data["stops"]:
        assert min(abs(stop["length"] - x) for x in at) < 1e-9 * at[-1]
    assert seen.data["loads"] == [x.load for x in seen.stroke.states]
    assert len(seen.arc) * len(at) <= 1.1 * MOST_RINGS
    assert seen.data["stops"][0]["load"] == 0
    assert seen.data["stops"][-1]["load"] == seen.data["load"]


def test_greatest_stress_told_is_the_summarys_peak(seen):
    for point in seen.spring.summary().along_the_wire.points:
        near = [k for k, x in enumerate(seen.data["states"]) if abs(x - point.length) < 1e-9 * x]
        for k in near:
            assert seen.greatest["von_mises"][k].max() == pytest.approx(point.von_mises, rel=5e-3)
    for kind in STRESSES:
        peaks = seen.wires[-1].peaks.values()
        most = max(getattr(p, kind).value for p in peaks)
        assert seen.greatest[kind][-1].max() == pytest.approx(most, rel=1e-6)


def test_greatest_share_painted_is_one_over_the_least_margin(seen):
    load = seen.stroke.states[-1].load
    margins = seen.spring.along_the_wire.stressed(load).margin.model_dump().values()
    least = min((m for m in margins if m is not None), default=np.inf)
    assert seen.use["judged"][-1].max() == pytest.approx(1 / least, rel=1e-6)
    assert seen.corners["judged"].max() == pytest.approx(1 / least, rel=1e-6)
    allowable = Handbook(seen.spring.model).allowable
    most = max(p.axial.value for p in seen.wires[-1].peaks.values()) / allowable.hook_bending
    assert seen.use["axial"][-1].max() == pytest.approx(most, rel=1e-6)
    # the drawn corners of a ring show what is told of it, to a step of its 255
    for kind in KINDS:
        told = seen.use[kind][-1]
        assert np.abs(seen.corners[kind].max(axis=1) - told).max() <= 0.51 / 255 * told.max()


def test_wire_beyond_the_contacts_carries_nothing(seen):
    s = seen.wires[0].s
    free = (seen.arc < s[0] - 1e-3) | (seen.arc > s[-1] + 1e-3)
    for kind in KINDS:
        assert not seen.corners[kind][free].any()
        assert not seen.use[kind][:, free].any()
    for kind in STRESSES:
        assert not seen.greatest[kind][:, free].any()


def test_shear_of_the_body_is_greatest_inside_the_coil_and_bergstraesser(seen):
    """Curvature raises the inner fibre: Shigley ch. 10; K_B = (4C + 2)/(4C − 3), eq. 10-5."""
    g = seen.spring.model.geometry
    piece = np.frombuffer(base64.b64decode(seen.data["piece"]), "u1")
    body = np.flatnonzero(piece == seen.data["labels"].index("body"))
    middle = body[len(body) // 4 : -len(body) // 4]
    out = np.linalg.norm(seen.corner_points(0)[middle][..., :2], axis=2)
    # pressed coils keep what they were wound with
    load = max(seen.stroke.states[-1].load, seen.spring.load_curve.pressing)
    shear = seen.corners["shear"][middle] * Handbook(seen.spring.model).allowable.body_shear / load
    lean = np.cos(2 * np.pi * (np.argmax(shear, axis=1) - np.argmin(out, axis=1)) / AROUND)
    assert lean.min() > np.cos(2 * 2 * np.pi / AROUND)
    if seen.data["states"][-1] > 3 * seen.spring.free_length:
        return  # drawn far, the coils are no longer the handbook's
    c = 2 * g.coil_radius / g.wire_diameter
    book = (4 * c + 2) / (4 * c - 3) * 8 * 2 * g.coil_radius / (np.pi * g.wire_diameter**3)
    tolerance = 0.02 if not seen.spring.model.body.is_open else 0.08
    assert shear.max(axis=1).mean() == pytest.approx(book, rel=tolerance)


def test_marks_are_the_peaks_of_bending_and_shear_in_the_hooks(seen):
    hooks = sum(seen.spring.model.geometry.contact_s[k] is not None for k in (0, 1))
    found = marks(seen.wires[-1])
    assert len(found) == 2 * hooks
    point = seen.spring.along_the_wire.stressed(seen.stroke.states[-1].load)
    for name, value in (("A", point.hook_bending), ("B", point.hook_torsion)):
        here = [m.stress for m in found if m.point == name]
        if value is None:
            assert not here
        else:
            assert max(here) == pytest.approx(value)


def test_without_loads_the_stroke_ends_where_a_margin_is_one():
    load = stroke_of(odd("no-loads")).load
    again = Spring.from_dict({**ODD["no-loads"], "service": {"loads": [load]}}).summary()
    margins = again.along_the_wire.points[0].margin.model_dump().values()
    assert min(m for m in margins if m is not None) == pytest.approx(1.0, rel=1e-6)


def test_a_stroke_that_cannot_be_drawn_ends_earlier_and_says_so():
    stroke = stroke_of(odd("out-of-reach"))
    assert "nearly be drawn straight" in stroke.remark
    longest = odd("out-of-reach").summary().along_the_wire.points[-1].length
    assert longest < stroke.states[-1].length * (1 + 1e-9) < longest + 500
    assert stroke.stops[-1].length == stroke.states[-1].length


def test_over_travel_is_part_of_the_stroke():
    spring = odd("every-mate")
    longest = spring.summary().along_the_wire.points[-1].length
    assert stroke_of(spring).states[-1].length == pytest.approx(longest + 8.0)


def test_a_pin_touches_the_wire_at_its_contact_in_every_state():
    seen = Decoded(kept("gate-latch"))
    pins = {p["name"]: p for p in seen.data["parts"]}
    assert set(pins) == {"pin at the first end", "pin at the second end"}
    for name, side, diameter in (
        ("pin at the first end", 0, 7.0),
        ("pin at the second end", 1, 5.0),
    ):
        for place, contacts in zip(pins[name]["place"], seen.data["contacts"], strict=True):
            # a loaded hook leans: the pin goes round the middle of its wire
            wire = seen.data["radius"] * np.array([0.0, 0.0, 1.0 if side == 0 else -1.0])
            middle = np.array(contacts[3 * side : 3 * side + 3]) - wire
            away, axis = np.array(place[:3]) - middle, np.array(place[3:6])
            reach = diameter / 2 + seen.data["radius"]
            assert np.linalg.norm(np.cross(away, axis)) == pytest.approx(reach, rel=1e-4)


def test_every_kind_of_mate_is_there():
    data = Decoded(odd("every-mate")).data
    assert [p["shape"] for p in data["parts"]] == ["plate", *["cylinder"] * 4, "sleeve"]
    low, high = np.array(data["box"])
    for p in data["parts"]:
        for place in p["place"]:
            assert (low < place[:3]).all()
            assert (np.array(place[:3]) < high).all()


def test_fitted_ends_bring_their_solids():
    spring = Spring.from_dict(FITTED)
    data = Decoded(spring).data
    parts = spring.model.geometry.parts
    assert [f["name"] for f in data["fittings"]] == [p.name for p in parts]
    assert len(parts) == 2
    for f, part in zip(data["fittings"], parts, strict=True):
        v = Decoded.floats(f["vertices"]).reshape(-1, 3)
        t = v[np.frombuffer(base64.b64decode(f["faces"]), "<u4").reshape(-1, 3)]
        volume = np.einsum("ni,ni", t[:, 0], np.cross(t[:, 1], t[:, 2])) / 6
        assert volume == pytest.approx(part.volume, rel=0.02)
        origin, axes = np.array(f["place"][0][:3]), np.array(f["place"][0][3:]).reshape(3, 3).T
        placed = v @ axes.T + origin
        size = np.ptp(part.box, axis=0).max()
        np.testing.assert_allclose(
            [placed.min(axis=0), placed.max(axis=0)], part.box, atol=0.01 * size
        )

"""CadQuery objects: solids, frames, assemblies, the Workplane method, the bridge."""

from __future__ import annotations

from pathlib import Path

import cadquery as cq
import numpy as np
import pytest

from springgeo import Spring, cad
from springgeo.fit import Around, Bore, EndMate, Mating, Pin, Plate, Rod, Stud
from springgeo.fit.mechanism import Slide, run
from springgeo.fit.seat import end_frame

SPEC = {
    "wire": {"material": "astm-a228", "diameter": 1.2},
    "body": {"mean_diameter": 9.6, "coils": 4},
    "ends": {
        "first": {"style": "full-twisted-loop"},
        "second": {"style": "machine-half-loop"},
        "angle": 90,
    },
}
MATING = Mating(
    first=EndMate(pin=Pin(diameter=7, length=20)),
    second=EndMate(plate=Plate(hole_diameter=3, thickness=2, edge_distance=4)),
    around=Around(bore=Bore(diameter=13), rod=Rod(diameter=6)),
)


@pytest.fixture(scope="module")
def spring() -> Spring:
    return Spring.from_dict(SPEC)


def test_solid_of_a_spring_and_of_its_state(spring: Spring) -> None:
    state = spring.at(length=spring.free_length * 1.1)
    assert cad.solid(spring).isValid()
    assert cad.solid(state).Volume() == pytest.approx(cad.solid(spring).Volume(), rel=1e-6)
    assert cad.wrapped(state).IsNull() is False


def test_frames_lie_on_the_contacts(spring: Spring) -> None:
    state = spring.at(length=spring.free_length + 3)
    places = cad.frames(state)
    # loaded loops lean, and their frames with them, about the middle of the wire
    for name, z, up in (("first_end", 0.0, 1.0), ("second_end", state.length, -1.0)):
        plane, d = cq.Plane(places[name]), state.geometry.wire_diameter
        middle = plane.origin - plane.zDir * (d / 2)
        assert middle.toTuple() == pytest.approx((0, 0, z - up * d / 2), abs=1e-5)
        assert plane.zDir.z * up > 0.99
    free = cad.frames(spring)
    assert free["first_end"].toTuple()[0] == pytest.approx((0, 0, 0), abs=1e-9)
    assert free["second_end"].toTuple()[0] == pytest.approx((0, 0, spring.free_length), abs=1e-9)
    assert cq.Plane(free["second_end"]).zDir.toTuple() == pytest.approx((0, 0, -1), abs=1e-9)
    # a quarter turn between the loop planes turns the pins by as much
    ya, yb = (cq.Plane(free[n]).yDir for n in ("first_end", "second_end"))
    assert abs(ya.dot(yb)) == pytest.approx(0.0, abs=1e-9)


def test_assembly_names_its_parts(spring: Spring) -> None:
    whole = cad.assembly(spring, mating=MATING)
    assert {c.name for c in whole.children} == {
        "spring",
        "pin_first",
        "plate_second",
        "rod",
        "bore",
    }
    assert all(c.color is not None for c in whole.children)
    low = whole.toCompound().BoundingBox().zmin
    assert low < -1.0


def test_tags_solve_in_constrain(spring: Spring) -> None:
    whole = cad.assembly(spring, mating=Mating(first=MATING.first))
    stray = cq.Workplane().box(3, 3, 3)
    stray.faces(">Z").tag("top")
    whole.add(stray, name="block", loc=cq.Location((40, 5, 9)))
    whole.constrain("spring", "Fixed")
    whole.constrain("spring?first_end", "pin_first?seat", "Plane", param=0)
    whole.constrain("spring?second_end", "block?top", "Plane")
    whole.solve()
    block = next(c for c in whole.children if c.name == "block")
    centre = block.obj.faces(">Z").val().moved(block.loc).Center()
    assert centre.toTuple() == pytest.approx((0, 0, spring.free_length), abs=1e-5)


def test_poses_move_end_b_only(spring: Spring) -> None:
    states = [spring.at(length=spring.free_length + k) for k in (0, 2, 4)]
    seats = [
        next(c for c in whole.children if c.name == "plate_second").loc.toTuple()[0][2]
        for whole in cad.poses(spring, states, MATING)
    ]
    # leaning hooks: the seat is across the wire, half a wire from its middle
    wire = spring.model.geometry.wire_diameter
    lean = [end_frame(s.geometry, "second").axes[2, 2] for s in states]
    wanted = [s.length + wire / 2 * (1 + z) for s, z in zip(states, lean, strict=True)]
    assert seats == pytest.approx(wanted, abs=1e-5)
    assert lean[0] == -1.0
    assert all(z < -0.99 for z in lean)


def test_motion_poses_carry_both_loops_onto_the_pins() -> None:
    made = Spring.from_dict({**SPEC, "ends": {**SPEC["ends"], "angle": 0}})
    away = (0.0, -30.0)
    slide = Slide((-20.0, -18.0), (20.0, -18.0))
    motion = run(made.load_curve, away, slide, pins=(4.0, 4.0), stations=9)
    assert motion.slack[[0, 4, 8]].tolist() == [False, True, False]
    pin = EndMate(pin=Pin(diameter=4, length=12))
    shown = list(cad.motion_poses(made, motion, Mating(first=pin, second=pin), every=4))
    assert len(shown) == 3
    for i, whole in zip((0, 4, 8), shown, strict=True):
        seats = {c.name: c.obj.val().moved(whole.loc * c.loc).Center() for c in whole.children}
        assert seats["pin_first"].toTuple() == pytest.approx((*away, 0.0), abs=1e-9)
        _, place, _ = slide.at(np.array([i / 8]))
        if not motion.slack[i]:
            assert seats["pin_second"].toTuple() == pytest.approx((*place[0], 0.0), abs=1e-6)


def test_register_places_one_at_every_point(spring: Spring) -> None:
    cad.register()
    cad.register()  # twice is once
    four = cq.Workplane().rect(40, 40, forConstruction=True).vertices().spring(spring)
    assert len(four.vals()) == 4
    assert sum(s.Volume() for s in four.vals()) == pytest.approx(4 * cad.solid(spring).Volume())
    centre = four.vals()[0].Center() - cad.solid(spring).Center()
    assert abs(centre.x) == pytest.approx(20)
    with pytest.raises(ValueError, match="exists already"):
        cad.register("box")


def test_hand_over_writes_step(spring: Spring, tmp_path: Path) -> None:
    file = cad.hand_over(spring, tmp_path / "spring.step")
    back = cq.importers.importStep(str(file)).val()
    assert back.Volume() == pytest.approx(cad.solid(spring).Volume(), rel=1e-6)


def test_stud_solid_has_its_volume(spring: Spring) -> None:
    import math

    stud = Stud(diameter=8, groove_diameter=5, groove_width=2, length=10)
    shape = cad.seated_solid(spring.at(length=spring.free_length), "first", stud)
    wanted = math.pi / 4 * (8**2 * 8 + 5**2 * 2)
    assert shape.Volume() == pytest.approx(wanted, rel=1e-9)


def test_assembly_and_fit_place_parts_alike(spring: Spring) -> None:
    state = spring.at(length=spring.free_length + 2)
    whole = cad.assembly(spring, state, MATING)
    for name, side, mate in (
        ("pin_first", "first", MATING.first),
        ("plate_second", "second", MATING.second),
    ):
        assert mate is not None
        child = next(c for c in whole.children if c.name == name)
        placed = child.obj.val().moved(child.loc)
        wanted = cad.seated_solid(state, "first" if side == "first" else "second", mate.part)
        assert placed.Center().toTuple() == pytest.approx(wanted.Center().toTuple(), abs=1e-6)
        assert placed.Volume() == pytest.approx(wanted.Volume(), rel=1e-9)
        common = placed.intersect(wanted).Volume()
        assert common == pytest.approx(wanted.Volume(), rel=1e-6)


def test_seated_parts_clear_the_solid_when_moved_off(spring: Spring) -> None:
    """A hair off the seat the kernel sees that hair; a hair into it, an overlap."""
    state = spring.at(length=spring.free_length)
    body = cad.solid(state)
    for side, mate, inward in (("first", MATING.first, 1.0), ("second", MATING.second, -1.0)):
        assert mate is not None
        part = cad.seated_solid(state, "first" if side == "first" else "second", mate.part)
        off = part.moved(cq.Location((0, 0, 0.05 * inward)))
        into = part.moved(cq.Location((0, 0, -0.05 * inward)))
        assert 0 < cad.kernel_clearance(body, off) <= 0.05 + 1e-6
        assert cad.overlap_volume(body, into) > 1e-4


def test_bad_parts_are_refused(spring: Spring) -> None:
    from springgeo.fit import Tube

    with pytest.raises(ValueError, match="no end"):
        cad.part_solid(Tube(np.zeros(3), np.array([0, 0, 1.0]), 5.0))
    plain = Spring.from_dict(
        {**SPEC, "ends": {"first": {"style": "plain"}, "second": {"style": "plain"}}}
    )
    with pytest.raises(ValueError, match="no hook"):
        cad.seated_solid(plain.at(length=plain.free_length), "first", Pin(diameter=3, length=9))
    assert cad.frames(plain)["first_end"].toTuple()[0] == pytest.approx((0, 0, 0))

"""What can be checked without a kernel: joints, radii, wire distance, length against the box."""

from __future__ import annotations

from collections.abc import Iterator

from springgeo.curve import measured_radius
from springgeo.ends.protocol import EndShape
from springgeo.equilibrium.state.loaded_geometry import LoadedGeometry
from springgeo.results.verdict import Check
from springgeo.specification.body import COIL_CLEARANCE
from springgeo.spring.geometry import Geometry
from springgeo.spring.model import SpringModel
from springgeo.text.naming import end_words, piece_words
from springgeo.text.shown import said, word


def centreline_checks(model: SpringModel) -> tuple[Check, ...]:
    """Return the checks of the centreline; none needs the kernel."""
    g = model.geometry
    joints = g.path.joint_angles()
    gaps = g.path.joint_gaps()
    jump = float(joints.max()) if len(joints) else 0.0
    gap = float(gaps.max()) if len(gaps) else 0.0
    checks = [
        _at_most(
            "tangent-jump", jump, 1e-9, "rad", word("largest angle at a joint of the centreline")
        ),
        _at_most("joint-gap", gap / g.wire_diameter, 1e-9, "d", word("largest gap at a joint")),
        *_length(g),
        *_distance(model),
    ]
    for side, shape in (("first", g.first), ("second", g.second)):
        checks += _radii(side, shape)
    return tuple(checks)


def _length(g: Geometry) -> Iterator[Check]:
    if isinstance(g, LoadedGeometry):
        a, b = g.contacts
        yield _at_most(
            "length-centreline",
            abs(float(b[2] - a[2]) - g.length) / g.wire_diameter,
            1e-5,
            "d",
            word("length by the load curve against the contact points on the loaded centreline"),
        )
        yield _at_most(
            "wire-length",
            abs(g.path.length / g.drawn.path.length - 1),
            1e-9,
            "",
            word("length of the loaded centreline against that of the free one"),
        )
        return
    span = float(g.box[1, 2] - g.box[0, 2])
    yield _at_most(
        "length-centreline",
        abs(span - g.overall_length) / g.wire_diameter,
        1e-5,
        "d",
        word("closed-form overall length against the exact box of the centreline's tube and parts"),
    )


def _distance(model: SpringModel) -> list[Check]:
    d = model.body.wire_diameter
    # under load the body's coils are held apart, those wound by an end are not: they may lap by
    # as much as was left between them
    loaded = isinstance(model.geometry, LoadedGeometry)
    least = 1.0 - COIL_CLEARANCE if loaded else 1.0
    found = []
    for name, near in (
        ("coil-distance", model.body_approach),
        ("hook-distance", model.hook_approach),
    ):
        if near is not None:
            found.append(
                Check(
                    name=name,
                    value=near.distance / d,
                    bound=least,
                    unit="d",
                    ok=near.distance >= d * (least - 1e-9),
                    what=said(
                        "least distance between centrelines, {here} to {there}; at least one wire "
                        "diameter",
                        here=piece_words(near.labels[0]),
                        there=piece_words(near.labels[1]),
                    ),
                )
            )
    return found


def _radii(side: str, shape: EndShape) -> list[Check]:
    """Compare r1 and r2 as stated with the radii measured from the curve itself."""
    checks = []
    for name, words, stated, role in (
        ("loop-radius", word("loop radius, centreline"), shape.loop_radius, "loop"),
        ("bend-radius", word("bend radius, centreline"), shape.bend_radius, "bend"),
    ):
        pieces = [p for p in shape.pieces if p.role == role]
        if stated is not None and pieces:
            checks.append(
                _at_most(
                    f"{name}-{side}",
                    abs(measured_radius(pieces[0]) / stated - 1),
                    1e-9,
                    "",
                    said(
                        "{end}, {radius}: measured on the curve against the one stated",
                        end=end_words(side),
                        radius=words,
                    ),
                )
            )
    return checks


def solid_length(geometry: Geometry, height: float) -> float:
    """Return the length inside hooks read off the height of a solid, mm: less the wire beyond."""
    return height - (geometry.overall_length - geometry.length)


def _at_most(name: str, value: float, bound: float, unit: str, what: str) -> Check:
    return Check(name=name, value=value, bound=bound, unit=unit, ok=value <= bound, what=what)

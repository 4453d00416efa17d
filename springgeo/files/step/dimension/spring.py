"""The dimensions that define a free spring, between the faces of its solid that they mean.

A length at the body runs to the body's first or last face: the body's end, across the axis, is
no face of its own. Ends that hold a fitting are dimensioned to its mate frame.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from springgeo.files.step.dimension.model import LABELS, Dimension, Feature, Kind
from springgeo.fit.mouth import hook_mouth
from springgeo.making.ruling import ruling
from springgeo.results.measured import measured_points
from springgeo.solid import face_starts
from springgeo.specification.end_names import SIDES, Side
from springgeo.spring.geometry import Geometry
from springgeo.spring.model import SpringModel
from springgeo.summary import Summary
from springgeo.trade.dimension_tolerance import (
    Allowance,
    angle_allowance,
    diameter_allowance,
    general_allowance,
    length_allowance,
    mouth_allowance,
    wire_allowance,
)


def spring_dimensions(model: SpringModel, summary: Summary) -> list[Dimension]:
    """Return the dimensions of a free spring, to the faces of its ``tube_solid``.

    Tolerances are those of the drawing, by the tables of its paper's trade, wherever one reaches;
    as there, the free length has none where two loads at lengths rule.
    """
    faces, g, trade = _Faces(model.geometry), summary.geometry, model.spec.drawing.trade
    rules = len(measured_points(summary)) < 2
    free = length_allowance(g.free_length, g.index, trade) if rules else None
    ends = faces.contact("first"), faces.contact("second")
    return [
        _of(LABELS["free_length"], "distance", g.free_length, ends, free),
        *_diameters(model, summary, faces),
        *(d for side in SIDES for d in _end(model, faces, side)),
        *_angle(summary, ends),
    ]


def _diameters(model: SpringModel, s: Summary, faces: _Faces) -> Iterator[Dimension]:
    g = s.geometry
    wire = wire_allowance(g.wire_diameter, model.material.standard or "")
    yield _of(LABELS["wire_diameter"], "diameter", g.wire_diameter, (faces.tube,), wire)
    coil = diameter_allowance(g.mean_diameter, g.index, model.spec.drawing.trade)
    field = f"{ruling(model.spec)}_diameter"
    yield _of(LABELS[field], "diameter", getattr(g, field), (faces.body,), coil)


def _end(model: SpringModel, faces: _Faces, side: Side) -> Iterator[Dimension]:
    g = model.geometry
    shape, end = (g.first, model.first) if side == "first" else (g.second, model.second)
    body = faces.body[:1] if side == "first" else faces.body[-1:]
    if shape.hook_length > 0:
        label = LABELS[f"hook_length_{side}"]
        # of a fitted end it is for reference
        held = general_allowance(shape.hook_length) if end.style.holds_load else None
        yield _of(label, "distance", shape.hook_length, (faces.contact(side), body), held)
    found = hook_mouth(g, side, holds_load=end.style.holds_load)
    if found is not None:
        allowed = mouth_allowance(found.width, g.wire_diameter)
        across = faces.cut(side), faces.at(found.opposite)
        yield _of(LABELS[f"mouth_{side}"], "distance", found.width, across, allowed)
    if shape.opening is not None and shape.opening > 0:
        label = LABELS[f"opening_{side}"]
        yield _of(label, "distance", shape.opening, (faces.cut(side), body))


def _angle(s: Summary, ends: tuple[Feature, Feature]) -> Iterator[Dimension]:
    angle = s.geometry.loop_angle
    if angle is not None:
        allowed = angle_allowance(s.geometry.body_coils)
        yield _of(LABELS["loop_angle"], "angle", angle, ends, allowed)


def _of(
    label: str,
    kind: Kind,
    value: float,
    features: tuple[Feature, ...],
    allowed: Allowance | None = None,
) -> Dimension:
    if allowed is None:
        return Dimension(label, kind, value, features)
    return Dimension(label, kind, value, features, allowed.value, allowed.source)


class _Faces:
    """Numbers of the faces of a spring's solid: the tube along the wire, then the two cuts."""

    def __init__(self, geometry: Geometry) -> None:
        self._geometry = geometry
        self._starts = face_starts(geometry.path, geometry.wire_diameter / 2)
        count = len(self._starts)
        middle = (self._starts + np.append(self._starts[1:], geometry.path.length)) / 2
        roles = [geometry.path.pieces[i].role for i in geometry.path.find(middle)]
        self.tube = tuple(range(count))
        self.body = tuple(i for i, role in enumerate(roles) if role == "body")

    def cut(self, side: str) -> Feature:
        """Return the flat face at the wire's end."""
        return (len(self.tube) + (0 if side == "first" else 1),)

    def at(self, s: float) -> Feature:
        """Return the face of the tube at an arc length."""
        return (int(np.searchsorted(self._starts, s, side="right")) - 1,)

    def contact(self, side: str) -> Feature:
        """Return the face that a pin touches, the fitting's frame, or the cut of a plain end."""
        shape, s = (
            (self._geometry.first, self._geometry.contact_s[0])
            if side == "first"
            else (self._geometry.second, self._geometry.contact_s[1])
        )
        if s is not None:
            return self.at(s)
        return f"{side}_end" if shape.parts or shape.pieces else self.cut(side)

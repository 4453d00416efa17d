"""What stands beside the wire, as shapes of the view: one placement for every state.

A new kind of part needs a branch in ``_records`` and a maker of the same name in ``view.js``.
"""

from __future__ import annotations

import base64
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array, unit, vector
from springgeo.fit.obstacles import Cylinder, HolePlate, Obstacle, Union
from springgeo.fit.seat import Mate, end_frame, seated
from springgeo.fit.state import rod_shape
from springgeo.fittings import Part
from springgeo.mesh.fitting import part_mesh
from springgeo.specification.end_names import Side
from springgeo.specification.mating import EndMate, Mating, Pin, Plate
from springgeo.state import State
from springgeo.text.naming import ENDS

Record = dict[str, Any]
# outside over inside of the sleeve that stands for a bore
SLEEVE = 1.2
# how far a fitting's drawn facets may stray from its surface, over the fitting's size
FACETS = 5e-4
_Z = vector(0.0, 0.0, 1.0)


def parts(states: Sequence[State], mating: Mating | None) -> list[Record]:
    """Return the mating parts: name, shape, sizes in mm, and ``place`` per state.

    A placement is twelve numbers: the middle, then the three axes; a shape's own axis is its
    first.
    """
    if mating is None:
        return []
    found: list[Record] = []
    ends: tuple[tuple[Side, EndMate | None], ...] = (
        ("first", mating.first),
        ("second", mating.second),
    )
    for side, mate in ends:
        part = None if mate is None else mate.part
        if part is not None and end_frame(states[0].geometry, side) is not None:
            seats = [_seat(s, side, part) for s in states]
            name = f"{_word(part)} at the {ENDS[side]}"
            found += _merged(name, [list(_records(x)) for x in seats])
    rod, bore = mating.around.rod, mating.around.bore
    if rod is not None:
        found += _merged("rod", [list(_records(rod_shape(s.geometry, rod))) for s in states])
    if bore is not None:
        found += _merged("bore", [[_sleeve(s, bore.diameter / 2)] for s in states])
    return found


def fittings(states: Sequence[State]) -> list[Record]:
    """Return what fitted ends hold, as meshes in the part's own frame, placed in every state."""
    every = zip(*(s.geometry.parts for s in states), strict=True)
    return [_fitting(same) for same in every]


def _fitting(same: Sequence[Part]) -> Record:
    own = replace(same[0], axes=np.eye(3), origin=np.zeros(3))
    mesh = part_mesh(own, FACETS * float(np.linalg.norm(np.ptp(own.box, axis=0))))
    return {
        "shape": "mesh",
        "name": same[0].name,
        "vertices": base64_of(mesh.vertices.astype("<f4")),
        "faces": base64_of(mesh.faces.astype("<u4")),
        "length": [1.0] * len(same),
        "place": [_place(p.origin, p.axes) for p in same],
    }


def base64_of(array: npt.NDArray[Any]) -> str:
    """Return an array's bytes as text."""
    return base64.b64encode(np.ascontiguousarray(array).tobytes()).decode("ascii")


def extent(part: Record) -> tuple[Array, Array]:
    """Return the lowest and the highest corner ``(3,) float, mm`` of a part over all states."""
    place = np.array(part["place"])
    middle, axes = place[:, :3], np.abs(place[:, 3:].reshape(-1, 3, 3))
    reach = np.array(part["length"])[:, None] / 2 * axes[:, 0]
    if part["shape"] == "plate":
        reach = reach + part["edge"] * (axes[:, 1] + axes[:, 2])
    else:
        out = part["radius"] * (SLEEVE if part["shape"] == "sleeve" else 1.0)
        reach = reach + out * np.sqrt(np.maximum(1 - axes[:, 0] ** 2, 0.0))
    return (middle - reach).min(axis=0), (middle + reach).max(axis=0)


def _word(part: Mate) -> str:
    return "pin" if isinstance(part, Pin) else "plate" if isinstance(part, Plate) else "stud"


def _seat(state: State, side: Side, part: Mate) -> Obstacle:
    frame = end_frame(state.geometry, side)
    assert frame is not None
    return seated(frame, part)


def _records(part: Obstacle) -> Iterator[Record]:
    if isinstance(part, Union):
        for one in part.parts:
            yield from _records(one)
    elif isinstance(part, Cylinder):
        place = _place(part.centre, _axes(part.axis))
        yield {"shape": "cylinder", "radius": part.radius, "length": part.length, "place": place}
    elif isinstance(part, HolePlate):
        yield {
            "shape": "plate",
            "radius": part.radius,
            "edge": part.edge,
            "length": part.thickness,
            "place": _place(part.centre, part.axes),
        }


def _sleeve(state: State, radius: float) -> Record:
    g = state.geometry
    middle = vector(0.0, 0.0, sum(g.body_faces) / 2)
    place = _place(middle, _axes(_Z))
    return {
        "shape": "sleeve",
        "radius": radius,
        "outer": SLEEVE * radius,
        "length": g.body_length,
        "place": place,
    }


def _axes(axis: Array) -> Array:
    first = unit(axis)
    other = vector(1.0, 0.0, 0.0) if abs(first[0]) < 0.9 else _Z
    second = unit(np.cross(other, first))
    return np.column_stack([first, second, np.cross(first, second)])


def _place(middle: Array, axes: Array) -> list[float]:
    return [round(float(x), 6) for x in (*middle, *axes.T.ravel())]


def _merged(name: str, states: Sequence[Sequence[Record]]) -> Iterator[Record]:
    """Yield each record once, with its length and placement in every state."""
    for same in zip(*states, strict=True):
        places = [r["place"] for r in same]
        lengths = [round(float(r["length"]), 6) for r in same]
        yield {**same[0], "name": name, "place": places, "length": lengths}

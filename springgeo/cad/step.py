"""An assembly as STEP (AP242): named, coloured parts in place, with mate frames beside them."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from os import PathLike
from pathlib import Path

import numpy as np
from cadquery import Location, Plane, Shape, Vector

from springgeo.cad.assembly import mating_of
from springgeo.cad.frames import frames
from springgeo.cad.parts import Placed, placed_parts
from springgeo.cad.solids import single, state_of
from springgeo.computed import ComputedSpring
from springgeo.curve.frame import Array
from springgeo.errors import BuildError
from springgeo.files.step.read import read_step
from springgeo.files.step.write import Attribute, MateFrame, StepPart, write_step
from springgeo.publish.atomic import plain_target, staged
from springgeo.results.facts import CAUTIONS
from springgeo.solid import is_valid, properties, solids, volume
from springgeo.specification.mating import Mating
from springgeo.state import State

SCHEMA = "springgeo-assembly/1"
KEY = "springgeo-assembly"
# by how much a part may differ in volume when read back, relative
_BOUND = 1e-6


def write_assembly(
    target: str | PathLike[str],
    spring: ComputedSpring,
    state: State | None = None,
    mating: Mating | None = None,
    solids: Mapping[str, Shape] | None = None,
) -> Path:
    """Write a spring on its mating parts as one STEP file; equal input gives equal bytes.

    The file is read back before it appears: as many valid solids as parts, each with its volume.
    The mate frames ``first_end``, ``second_end`` and ``axis`` of ``frames`` are named placements
    beside the geometry, and stand with the parts' volumes in the attribute ``springgeo-assembly``.

    Parameters
    ----------
    target : path
    spring : Spring
    state : State, optional
        The free state if left out.
    mating : Mating, optional
        That of the specification if left out.
    solids : mapping of str to Shape, optional
        Further parts by name, one solid each, in the spring's frame.

    Returns
    -------
    Path
        The file.

    Raises
    ------
    BuildError
        A part is not one valid solid, or came out of the file changed.
    FileError
        The file cannot be written.
    """
    place = plain_target(target)
    state = state_of(spring) if state is None else state
    parts = [_step_part(p) for p in placed_parts(state, mating_of(spring, mating))]
    parts += [_step_part(Placed(n, "solid", s)) for n, s in (solids or {}).items()]
    names = [p.name for p in parts]
    for name in names:
        if names.count(name) > 1:
            raise BuildError(f"two parts are called '{name}'; give the solid another name")
    mates = {name: mate_frame(at) for name, at in frames(state).items()}
    with staged(place.parent) as stage:
        aside = stage / place.name
        write_step(
            aside,
            parts,
            product=spring.spec.name,
            description=f"extension spring on its mating parts, {_words(state)}",
            attributes={KEY: Attribute(json.dumps(_facts(state, parts, mates)))},
            frames=mates,
        )
        _require_same(aside, parts)
    return place


def mate_frame(location: Location) -> MateFrame:
    """Return origin, x and z of a location, each ``(3,) float``."""
    plane = Plane(location)

    def array(v: Vector) -> Array:
        # without negative zeros, which would make equal frames unequal bytes
        return np.array(v.toTuple()) + 0.0

    return array(plane.origin), array(plane.xDir), array(plane.zDir)


def _step_part(part: Placed) -> StepPart:
    shape = single(part.in_place)
    if shape.ShapeType() != "Solid":
        raise BuildError(f"part '{part.name}' is {shape.ShapeType()}, not one solid; split it up")
    known = part.properties or properties(shape.wrapped)
    return StepPart(part.name, shape.wrapped, part.colour, known)


def _words(state: State) -> str:
    return f"{state.length:.6g} mm inside hooks, {state.load:.5g} N"


def _facts(
    state: State, parts: Sequence[StepPart], mates: Mapping[str, MateFrame]
) -> dict[str, object]:
    return {
        "schema_version": SCHEMA,
        "units": "mm, N",
        "cautions": CAUTIONS,
        "length": state.length,
        "load": state.load,
        "parts": {p.name: p.properties.volume for p in parts if p.properties is not None},
        "frames": {
            name: {"origin": o.tolist(), "x": x.tolist(), "z": z.tolist()}
            for name, (o, x, z) in mates.items()
        },
    }


def _require_same(path: Path, parts: Sequence[StepPart]) -> None:
    found = solids(read_step(path).shape)
    if len(found) != len(parts):
        raise BuildError(f"the STEP file holds {len(found)} solids instead of {len(parts)}")
    for part, solid in zip(parts, found, strict=True):
        wanted = part.properties.volume if part.properties else volume(part.shape)
        if not is_valid(solid) or abs(volume(solid) / wanted - 1) > _BOUND:
            raise BuildError(
                f"part '{part.name}' came out of the STEP file changed: "
                f"{volume(solid):.9g} mm3 instead of {wanted:.9g} mm3"
            )

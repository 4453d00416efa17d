"""Everything that stands in an assembly, as one list: spring, fittings, mating parts, surroundings.

Whoever shows or writes an assembly goes through ``placed_parts``; a new kind of part is added
there and nowhere else.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from cadquery import Location, Shape

from springgeo.cad.frames import frames
from springgeo.cad.solids import bore_solid, part_solid
from springgeo.colours import SOLIDS
from springgeo.fit.seat import EndFrame, Mate, end_frame, seated
from springgeo.fit.state import rod_shape
from springgeo.solid import SolidProperties, tube_properties
from springgeo.solid import part_solid as fitting_solid
from springgeo.specification.mating import Mating, Pin, Plate
from springgeo.state import State

Colour = tuple[float, float, float]


@dataclass(frozen=True, eq=False)
class Placed:
    """One part of an assembly.

    Attributes
    ----------
    name, kind : str
        ``pin_first`` is a ``pin``; the kind gives the colour, ``SOLIDS``.
    shape : Shape
        One solid in axes of its own.
    place : Location
        Where those axes are in the spring's frame.
    tags : mapping of str to Location
        Mate frames in the part's own axes.
    properties : SolidProperties or None
        Of the shape, where they are known in closed form.
    """

    name: str
    kind: str
    shape: Shape
    place: Location = field(default_factory=Location)
    tags: Mapping[str, Location] = field(default_factory=dict)
    properties: SolidProperties | None = None

    @property
    def colour(self) -> Colour:
        """Red, green and blue, 0 to 1."""
        return SOLIDS[self.kind]

    @property
    def in_place(self) -> Shape:
        """The shape in the spring's frame."""
        return self.shape.moved(self.place)


def placed_parts(state: State, mating: Mating) -> Iterator[Placed]:
    """Yield the parts in their order: spring, fittings, ``pin_first`` and the like, rod, bore."""
    geometry, places = state.geometry, frames(state)
    known = tube_properties(geometry.path, geometry.wire_diameter / 2)
    yield Placed("spring", "spring", state.solid(), tags=places, properties=known)
    for fitting in geometry.parts:
        shape = Shape.cast(fitting_solid(fitting))
        yield Placed(fitting.name.replace(".", "_"), "fitting", shape)
    for side, mate in (("first", mating.first), ("second", mating.second)):
        frame = end_frame(geometry, "first" if side == "first" else "second")
        part = None if mate is None else mate.part
        if part is not None and frame is not None:
            kind, place = kind_of(part), places[f"{side}_end"]
            shape = mate_solid(frame, part)
            yield Placed(f"{kind}_{side}", kind, shape, place, {"seat": Location()})
    rod, bore = mating.around.rod, mating.around.bore
    if rod is not None:
        yield Placed("rod", "rod", part_solid(rod_shape(geometry, rod)))
    if bore is not None:
        sleeve = bore_solid(bore.diameter / 2, *geometry.body_faces)
        yield Placed("bore", "bore", sleeve)


def kind_of(part: Mate) -> str:
    """Return ``pin``, ``plate`` or ``stud``."""
    return "pin" if isinstance(part, Pin) else "plate" if isinstance(part, Plate) else "stud"


def mate_solid(frame: EndFrame, part: Mate) -> Shape:
    """Return a mating part as a solid in the frame of its end."""
    home = EndFrame(s=frame.s, wire=frame.wire, inside=frame.inside)
    return part_solid(seated(home, part))

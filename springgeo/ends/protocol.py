"""What an end style is: a parameter model and one function from body end to wire.

Local frame of a body end: the last point of the coil's centreline is P = (R, 0, 0), +z points
out of the spring, and the wire arrives along T0 = (0, cos α, sin α). A style always works in
this right-hand frame; the spring turns it to the other end and mirrors it for the left hand.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

import numpy as np
from pydantic import BaseModel, ConfigDict

from springgeo.curve import Path, Piece
from springgeo.fittings import Part
from springgeo.text.quantity import Units

# free: turns on its contact as it likes, a swivel's head included; kept: its pin keeps the loop
# from turning about the pull; swivelling: turns about its own axis alone; held: does not turn at
# all (a plug, a shackle, a vice)
Turning = Literal["free", "kept", "swivelling", "held"]


class EndParameters(BaseModel):
    """Base of a style's parameters: frozen, unknown keys refused, every field optional."""

    model_config = ConfigDict(frozen=True, extra="forbid")


@dataclass(frozen=True)
class BodyEnd:
    """What a style may know of the body it ends: all lengths mm, angles rad."""

    wire_diameter: float
    coil_radius: float
    pitch: float

    @property
    def lead(self) -> float:
        """Lead angle α of the coil, rad."""
        return math.atan2(self.pitch, 2 * math.pi * self.coil_radius)

    @property
    def inside_diameter(self) -> float:
        """D_i = D − d, mm."""
        return 2 * self.coil_radius - self.wire_diameter

    @property
    def face(self) -> float:
        """Height of the body's end face above the coil's centreline at P: d/2, mm."""
        return self.wire_diameter / 2


@dataclass(frozen=True)
class EndShape:
    """The wire of one end, from P outward, in the local frame.

    Attributes
    ----------
    pieces : tuple of Piece
        Labelled segments; empty for a plain end.
    hook_length : float, mm
        Inside of the hook to the body's end face, in closed form.
    azimuth : float or None, rad
        Direction of the loop plane about the axis, toward the side the wire comes from.
    contact_s : float or None, mm
        Arc length along ``pieces`` where the load acts (the apex of the loop).
    loop_radius, bend_radius : float or None, mm
        r1 and r2 of the wire's centreline, as truly built.
    opening : float or None, mm
        Clear distance, along the axis, from the wire's cut end to the body's end face.
    offset : float, mm
        Distance of the contact from the body's axis; above zero for a loop at the side.
    reach : float or None, mm
        How far wire or fitting reaches beyond ``hook_length``; None for a hook's own wire
        diameter.
    parts : tuple of Part
        Solids of their own that the end holds: a swivel, a plug.
    grip_s : float or None, mm
        Arc length along ``pieces`` where a part takes the load off the wire; what follows is
        held by it. The load then acts along the body's axis.
    gripped_coils : float
        How many of the coils in ``pieces`` are held by a part: in all coils, not in the active.
    working_coils : float
        How many coils in ``pieces`` work beside the body's, between it and the hook.
    active_coils : float
        What those coils are worth in coils of the body: one of radius r gives (r/R)³ as much.
    active_wire : float, mm
        Wire in those coils.
    hook_radius : float or None, mm
        Radius of the coil on which the hook is bent; None for the body's own.
    built : mapping of str to float or str
        Parameters of the style as built, by name, where no attribute above of the same name
        says it: what a maker must be told beside them.
    """

    pieces: tuple[Piece, ...]
    hook_length: float
    azimuth: float | None = None
    contact_s: float | None = None
    loop_radius: float | None = None
    bend_radius: float | None = None
    opening: float | None = None
    offset: float = 0.0
    reach: float | None = None
    parts: tuple[Part, ...] = ()
    grip_s: float | None = None
    gripped_coils: float = 0.0
    working_coils: float = 0.0
    active_coils: float = 0.0
    active_wire: float = 0.0
    hook_radius: float | None = None
    built: Mapping[str, float | str] = field(default_factory=dict)

    @property
    def length(self) -> float:
        """Length of the end's wire, mm."""
        return sum(p.segment.length for p in self.pieces)

    @property
    def opens_to(self) -> float | None:
        """Azimuth of the side on which the wire ends, in the loop plane; None without a loop, rad.

        That is the side a hook opens to: there it is slipped over its pin.
        """
        if self.azimuth is None or self.contact_s is None:
            return self.azimuth
        path = Path(self.pieces)
        at = path.point(np.array([self.contact_s, path.length]))
        x, y, _ = (at[1] - at[0]).tolist()
        toward = x * math.cos(self.azimuth) + y * math.sin(self.azimuth)
        return self.azimuth if toward > 0 else self.azimuth + math.pi

    def as_built(self, names: Iterable[str]) -> dict[str, float | str]:
        """Return parameters by name as built, of those in ``names`` whose value the shape has.

        Given to the style they build the same wire again.
        """
        found = {n: self.built.get(n, getattr(self, n, None)) for n in names}
        return {n: v for n, v in found.items() if v is not None}


Range = Mapping[str, tuple[float, float]]


@dataclass(frozen=True)
class Usual:
    """The hook lengths the trade usually asks for, in inside diameters of the coil, and who says.

    Advice alone: nothing is refused outside it.
    """

    low: float
    high: float
    source: str


@dataclass(frozen=True)
class ByUnits:
    """A parameter of which the trade of a specification's units decides where nothing is said.

    Attributes
    ----------
    name : str
    mm, inch : str or float
        What is then taken in a specification in either units, as it may be said; without a word
        the style itself takes that of ``mm``.
    instead : tuple of str
        Parameters that say the same: with one of them there is nothing left to decide.
    """

    name: str
    mm: str | float
    inch: str | float
    instead: tuple[str, ...] = ()


@dataclass(frozen=True)
class EndStyle:
    """One end style; an instance is what an entry point of ``springgeo.ends`` names.

    Attributes
    ----------
    name, title, summary : str
        The tag in a specification, the trade name, one line of description.
    sketch : str
        A few lines of ASCII.
    parameters : type of EndParameters
    shape : callable
        ``shape(parameters, body_end) -> EndShape``; raises ``SpecError`` whose fields are named
        after the parameters.
    ranges : callable
        ``ranges(body_end) -> {parameter: (low, high)}`` in mm: any combination inside is
        guaranteed to build and to pass every check. Empty where the body admits none.
    holds_load : bool
        Whether the wire itself forms a hook (points A and B apply).
    turning : "free", "kept", "swivelling" or "held"
        What turning the end is left under load: a hook turns freely on its contact, and so does
        a swivel; a screwed-in fitting is held. ``kept`` is for an end that cannot turn about
        the pull, ``swivelling`` for one that turns about its own axis alone.
    usual : Usual or None
        Hook lengths in common use, where a source gives them.
    offered : bool
        Whether searches and comparisons offer it by itself; not a style that is drawn after one
        part alone.
    by_units : tuple of ByUnits
        Parameters whose default follows the units of the specification.
    """

    name: str
    title: str
    summary: str
    sketch: str
    parameters: type[EndParameters]
    shape: Callable[[Any, BodyEnd], EndShape]
    ranges: Callable[[BodyEnd], Range] = field(default=lambda _end: {})
    holds_load: bool = True
    turning: Turning = "free"
    usual: Usual | None = None
    offered: bool = True
    by_units: tuple[ByUnits, ...] = ()

    def decided(self, said: Mapping[str, object], units: Units) -> dict[str, str | float]:
        """Return what units decide of the parameters where ``said`` are given: names and values."""
        given = {name for name, value in said.items() if value is not None}
        left = [b for b in self.by_units if not given & {b.name, *b.instead}]
        return {b.name: b.inch if units == "inch" else b.mm for b in left}

    @property
    def has_one_shape(self) -> bool:
        """Whether it has no parameters, as the plain end."""
        return not self.parameters.model_fields

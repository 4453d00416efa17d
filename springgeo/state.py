"""One state of a spring: what load, what length, and its shape there."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from springgeo.curve import Path
from springgeo.curve.frame import Array
from springgeo.errors import SpecError
from springgeo.findings import Finding, error
from springgeo.spring.geometry import Geometry
from springgeo.spring.model import SpringModel
from springgeo.spring.state import at_length
from springgeo.text import quantity as q
from springgeo.text.shown import said

if TYPE_CHECKING:
    from cadquery import Solid

    from springgeo.mesh import Mesh

Rate = Literal["handbook", "along-the-wire"]
# relative: a length that misses the free length by rounding alone is the free length
_ROUNDING = 1e-9


@dataclass(frozen=True)
class LoadLine:
    """Load over length: nothing moves up to the initial tension, then a straight line.

    N, N/mm, mm.
    """

    initial_tension: float
    rate: float
    free_length: float

    def length(self, load: float) -> float:
        """Return the length inside hooks, mm, at a load in N; raises SpecError if not finite."""
        if not math.isfinite(load):
            raise SpecError(error("bad-value", "load", f"{load} N is not a finite load"))
        return self.free_length + max(0.0, load - self.initial_tension) / self.rate

    def load(self, length: float) -> float:
        """Return the load, N, at a length in mm; at the free length, the initial tension.

        Raises
        ------
        SpecError
            Not finite, or below the free length, where an extension spring hangs loose.
        """
        if not length >= self.free_length * (1 - _ROUNDING) or math.isinf(length):
            raise SpecError(
                error(
                    "length-below-free" if math.isfinite(length) else "bad-value",
                    "length",
                    said(
                        "{length} needs to be finite and not below the free length of {free}: an "
                        "extension spring cannot be pushed",
                        length=q.length(length, 5),
                        free=q.length(self.free_length, 5),
                    ),
                )
            )
        return self.initial_tension + self.rate * (length - self.free_length)


@dataclass(frozen=True, eq=False)
class State:
    """A spring under ``load`` N at ``length`` mm inside hooks.

    ``findings`` warn where that is beyond what the spring holds.
    """

    load: float
    length: float
    geometry: Geometry
    findings: tuple[Finding, ...] = ()

    @classmethod
    def of(
        cls, model: SpringModel, line: LoadLine, *, load: float | None, length: float | None
    ) -> State:
        """Return the state at a load or at a length; raises SpecError."""
        load, length = cls.asked(line, load=load, length=length)
        return cls(load, length, at_length(model, length))

    @staticmethod
    def asked(line: LoadLine, *, load: float | None, length: float | None) -> tuple[float, float]:
        """Return load, N, and length, mm, of the state asked for; raises SpecError."""
        if (load is None) == (length is None):
            raise SpecError(error("one-of-two", "state", "give either a load or a length"))
        given = load if length is None else length
        if given is None or not math.isfinite(given) or given < 0:
            raise SpecError(
                error("bad-value", "state", f"{given} is not a finite number from zero up")
            )
        return (given, line.length(given)) if length is None else (line.load(given), given)

    @property
    def centreline(self) -> Path:
        """The wire's centreline in this state."""
        return self.geometry.path

    @property
    def box(self) -> Array:
        """Exact bounding box of wire and parts, ``(2, 3) float, mm``: lowest, highest corner."""
        return self.geometry.box

    def solid(self) -> Solid:
        """Return the wire as an exact CadQuery ``Solid`` (loads the kernel)."""
        from cadquery import Solid

        from springgeo.solid import tube_solid

        return Solid(tube_solid(self.geometry.path, self.geometry.diameter / 2))

    def parts(self) -> dict[str, Solid]:
        """Return the solids that fitted ends hold, by name (``b.swivel``); loads the kernel."""
        from cadquery import Solid

        from springgeo.solid import part_solid

        return {part.name: Solid(part_solid(part)) for part in self.geometry.parts}

    def mesh(self, chord: float | None = None) -> Mesh:
        """Return the wire as a watertight triangle mesh within ``chord`` mm (0.01 d)."""
        from springgeo.mesh import tube_mesh

        d = self.geometry.diameter
        return tube_mesh(self.geometry.path, d / 2, 0.01 * d if chord is None else chord)

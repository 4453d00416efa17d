"""One state of a spring: what load, what length, and its shape there."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from springgeo.curve import Path
from springgeo.curve.frame import Array
from springgeo.equilibrium.load_curve import LoadCurve
from springgeo.equilibrium.loaded_geometry import LoadedGeometry
from springgeo.equilibrium.spring_state import SpringState
from springgeo.errors import SpecError
from springgeo.findings import Finding, error
from springgeo.spring.geometry import Geometry

if TYPE_CHECKING:
    from cadquery import Solid

    from springgeo.mesh import Mesh


@dataclass(frozen=True, eq=False)
class State:
    """A spring under ``load`` N at ``length`` mm inside hooks.

    ``findings`` warn where that is beyond what the spring holds; ``equilibrium`` is what wire,
    pins and coils bear.
    """

    load: float
    length: float
    geometry: Geometry
    findings: tuple[Finding, ...] = ()
    equilibrium: SpringState | None = None

    @classmethod
    def of(cls, curve: LoadCurve, at: SpringState) -> State:
        """Return the state of an equilibrium; at rest it is the spring as drawn."""
        drawn = curve.spring.geometry
        geometry = drawn if at.load == 0.0 else LoadedGeometry.of(drawn, at)
        return cls(at.load, at.length, geometry, equilibrium=at)

    @staticmethod
    def asked(curve: LoadCurve, *, load: float | None, length: float | None) -> float:
        """Return the load, N, of the state asked for; raises SpecError."""
        if (load is None) == (length is None):
            raise SpecError(error("one-of-two", "state", "give either a load or a length"))
        given = load if length is None else length
        if given is None or not math.isfinite(given) or given < 0:
            raise SpecError(
                error("bad-value", "state", f"{given} is not a finite number from zero up")
            )
        return given if length is None else curve.load(given)

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

        return Solid(tube_solid(self.geometry.path, self.geometry.wire_diameter / 2))

    def parts(self) -> dict[str, Solid]:
        """Return the solids that fitted ends hold, by name (``b.swivel``); loads the kernel."""
        from cadquery import Solid

        from springgeo.solid import part_solid

        return {part.name: Solid(part_solid(part)) for part in self.geometry.parts}

    def mesh(self, chord: float | None = None) -> Mesh:
        """Return the wire as a watertight triangle mesh within ``chord`` mm (0.01 d)."""
        from springgeo.mesh import tube_mesh

        d = self.geometry.wire_diameter
        return tube_mesh(self.geometry.path, d / 2, 0.01 * d if chord is None else chord)

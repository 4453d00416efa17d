"""One state of a spring: what load, what length, and its shape there."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from os import PathLike
from pathlib import Path as FilePath
from typing import TYPE_CHECKING

from springgeo.curve import Path
from springgeo.curve.frame import Array
from springgeo.equilibrium.load_curve import LoadCurve
from springgeo.equilibrium.state.loaded_geometry import LoadedGeometry
from springgeo.equilibrium.state.spring_state import SpringState
from springgeo.errors import refused
from springgeo.files.publish.naming import DEFAULT_FORMATS
from springgeo.findings import Finding
from springgeo.spring.geometry import Geometry
from springgeo.statics.profile import StressProfile
from springgeo.summary.reach.states import state_findings
from springgeo.summary.wire import AlongWire

if TYPE_CHECKING:
    from cadquery import Solid

    from springgeo.elements.choice import Elements
    from springgeo.files.publish.bundle import NamedState
    from springgeo.files.publish.detail import Detail
    from springgeo.fit import Mating, StateFit
    from springgeo.mesh import Mesh


@dataclass(frozen=True, eq=False)
class State:
    """A spring under ``load`` N at ``length`` mm inside hooks.

    ``straight`` is the wire pulled straight, where ``wire`` is as mounted; ``name`` is what files
    of the state are called after.
    """

    load: float
    length: float
    geometry: Geometry
    wire: AlongWire
    straight: AlongWire | None = None
    name: str = "free"
    solved: SpringState | None = None

    @classmethod
    def of(cls, wire: AlongWire, at: SpringState, straight: AlongWire | None = None) -> State:
        """Return the state of an equilibrium; at rest it is the spring as drawn."""
        if at.load == 0.0:
            return replace(cls.free(wire), straight=straight, solved=at)
        geometry = LoadedGeometry.of(wire.curve.spring.geometry, at)
        return cls(at.load, at.length, geometry, wire, straight, f"{at.load:.6g}N", at)

    @classmethod
    def free(cls, wire: AlongWire) -> State:
        """Return the spring as drawn, without load."""
        geometry = wire.book.model.geometry
        return cls(0.0, geometry.length, geometry, wire)

    def called(self, name: str) -> State:
        """Return the state under another name."""
        return replace(self, name=name)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What warns of the state: more than the spring holds, wire that would lie in itself."""
        return (*self.beyond, *self.laps)

    @cached_property
    def beyond(self) -> tuple[Finding, ...]:
        """A warning where the state is more than the spring holds; weighed once, when asked."""
        if self.straight is None:
            return state_findings(self.wire, self.load)
        return state_findings(self.straight, self.load, self.wire)

    @cached_property
    def laps(self) -> tuple[Finding, ...]:
        """Where its wire would lie in itself; looked for once, when asked."""
        from springgeo.fit.laps import lap_findings

        return lap_findings(self.geometry, self.load)

    @cached_property
    def equilibrium(self) -> SpringState:
        """What wire, pins and coils bear."""
        return self.wire.curve.state(load=self.load) if self.solved is None else self.solved

    @staticmethod
    def asked(curve: LoadCurve, *, load: float | None, length: float | None) -> float:
        """Return the load, N, of the state asked for; raises SpecError."""
        if (load is None) == (length is None):
            raise refused("one-of-two", "state", "give either a load or a length")
        given = load if length is None else length
        if given is None or not math.isfinite(given) or given < 0:
            raise refused("bad-value", "state", f"{given} is not a finite number from zero up")
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

    def stress(self) -> StressProfile:
        """Return the stress along the wire in this state, station by station."""
        return StressProfile.of(self.wire.at(self.load), self.load)

    def fit(self, mating: Mating | None = None) -> StateFit:
        """Return how the hooks fit their mating parts here, those of the specification if left out.

        Raises SpecError without mating parts.
        """
        from springgeo.fit import mating_or_refused, state_fit

        return state_fit(self, mating_or_refused(mating, self.wire.book.model.spec), self.name)

    def export(
        self,
        folder: str | PathLike[str],
        *,
        formats: Sequence[str] = DEFAULT_FORMATS,
        detail: Detail = "exact",
        elements: Elements | None = None,
        overwrite: bool = True,
    ) -> tuple[FilePath, ...]:
        """Build, check and write this state, and the summary and a manifest beside it.

        Return the files written, all or none, named for spring and state: ``latch-25N.step``.
        What is raised is as for ``Spring.build``.
        """
        from springgeo.files.publish.bundle import export_bundle

        return export_bundle(
            self.wire.book.model,
            FilePath(folder),
            overwrite=overwrite,
            formats=formats,
            states=[self.as_named()],
            detail=detail,
            elements=elements,
        ).files

    def as_named(self) -> NamedState:
        """Return the state as files know it."""
        from springgeo.files.publish.bundle import NamedState
        from springgeo.files.publish.exporter import StateFacts

        return NamedState(StateFacts(self.name, self.load, self.length), self.geometry)

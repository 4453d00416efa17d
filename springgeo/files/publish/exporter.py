"""What an exporter is, and the job it is given."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from springgeo.elements import Elements
from springgeo.files.publish.detail import Detail, chord_of, joined, named_meshes
from springgeo.mesh import Mesh
from springgeo.spring.geometry import Geometry
from springgeo.spring.model import SpringModel
from springgeo.summary import Summary
from springgeo.text.json_value import Json

if TYPE_CHECKING:
    from OCP.TopoDS import TopoDS_Shape, TopoDS_Solid

    from springgeo.solid import Faces

SHAPE_SCHEMA = "springgeo-shape/1"


@dataclass(frozen=True)
class StateFacts:
    """Which state the geometry shows: a name for people and files, load N, length mm."""

    name: str = "free"
    load: float = 0.0
    length: float = 0.0


@dataclass(frozen=True, eq=False)
class ExportJob:
    """One spring in one state, ready to be written.

    Attributes
    ----------
    model : SpringModel
        With the geometry of this state.
    summary : Summary
        Of the spring, the same for all its states.
    stem : str
        File name without extension.
    elements : Elements
        What finite elements to divide it into.
    checked : Faces, optional
        The solid of this geometry, where it was built and checked already.
    """

    model: SpringModel
    summary: Summary
    stem: str
    state: StateFacts
    detail: Detail = "exact"
    elements: Elements = field(default_factory=Elements)
    checked: Faces | None = None

    @property
    def geometry(self) -> Geometry:
        """The centreline of this state."""
        return self.model.geometry

    @cached_property
    def faces(self) -> Faces:
        """The exact solid's faces: checked before, or now; raises BuildError (loads the kernel)."""
        if self.checked is not None:
            return self.checked
        from springgeo.checks.solid import sound_solid

        return sound_solid(self.geometry)

    @property
    def solid(self) -> TopoDS_Shape:
        """The exact solid (loads the kernel)."""
        return self.faces.shape

    @cached_property
    def parts(self) -> dict[str, TopoDS_Solid]:
        """The solids that fitted ends hold, by name (loads the kernel)."""
        from springgeo.solid import part_solid

        return {part.name: part_solid(part) for part in self.geometry.parts}

    @cached_property
    def meshes(self) -> list[tuple[str, Mesh]]:
        """Watertight triangles at this level of detail, mm: the wire, then parts, by name."""
        return named_meshes(self.geometry, self.detail)

    @cached_property
    def mesh(self) -> Mesh:
        """All meshes as one."""
        return joined([mesh for _, mesh in self.meshes])

    @property
    def caption(self) -> str:
        """What the file shows, in a few words: empty for the exact free spring."""
        words = []
        if self.state.name != "free":
            words.append(f"at {self.state.load:.5g} N, {self.state.length:.6g} mm inside hooks")
        if self.detail != "exact":
            words.append(f"{self.detail} detail")
        return ", ".join(words)

    @cached_property
    def summary_text(self) -> str:
        """The summary as one line of JSON, as files embed it."""
        return self.summary.json_text(None)

    def mesh_facts(self) -> dict[str, Json]:
        """Return what `shape_facts` says of the mesh."""
        low, high = self.mesh.vertices.min(axis=0), self.mesh.vertices.max(axis=0)
        return self.shape_facts(self.mesh.volume, [low.tolist(), high.tolist()])

    def tube_facts(self) -> dict[str, Json]:
        """Return what `shape_facts` says of the exact tube and the parts."""
        return self.shape_facts(self.geometry.volume, self.geometry.box.tolist())

    def shape_facts(self, volume: float, box: list[list[float]]) -> dict[str, Json]:
        """Return what a file says of its own shape, mm and N, to be checked by a reader."""
        return {
            "schema_version": SHAPE_SCHEMA,
            "state": self.state.name,
            "load": self.state.load,
            "length": self.state.length,
            "detail": self.detail,
            "chord": chord_of(self.geometry, self.detail),
            "volume": volume,
            "box": box,
            "frames": {
                name: at.tolist()
                for name, at in zip(
                    ("first_end", "second_end"), self.geometry.contacts, strict=True
                )
            },
        }


@dataclass(frozen=True)
class Exporter:
    """One file format; an instance is what an entry point of ``springgeo.exporters`` names.

    Attributes
    ----------
    name, extension, title : str
        The word for ``--format``, the file's ending without dot, one line of description.
    write : callable
        ``write(target, job)``: writes one file, the same bytes for the same job; may raise
        ``FileError`` or ``OSError``.
    exact : bool
        Whether it writes the exact solid: only then is the kernel loaded, the solid checked.
    elements : bool
        Whether it writes finite elements.
    """

    name: str
    extension: str
    title: str
    write: Callable[[Path, ExportJob], None]
    exact: bool = False
    elements: bool = False


def data_text(facts: Mapping[str, object]) -> str:
    """Return facts as one line of ASCII JSON."""
    return json.dumps(facts, ensure_ascii=True, allow_nan=False)

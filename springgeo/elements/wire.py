"""The wire of a spring in elements: nodes, elements, and sets named for what they are."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from springgeo.curve import Path
from springgeo.curve.frame import Array
from springgeo.elements.along import PER_TURN, layers
from springgeo.elements.choice import Elements, Kind
from springgeo.elements.o_grid import Ints, Section
from springgeo.elements.quality import volume
from springgeo.elements.swept import Swept
from springgeo.spring.geometry import Geometry

_ROLES = {
    "bend": "BENDS",
    "loop": "LOOPS",
    "coil": "REDUCED_COILS",
    "straight": "STRAIGHT_WIRE",
    "gripped": "GRIPPED_WIRE",
}


@dataclass(frozen=True, eq=False)
class MeshedWire:
    """A wire in hexahedra or beams.

    Attributes
    ----------
    kind : "hex20", "hex8" or "beams"
    path : Path
    diameter : float, mm
    nodes : (n, 3) float, mm
    elements : (m, 20 or 8 or 3) int
        Nodes from 0, in the order of VTK's quadratic and linear hexahedra and of the wire; of a
        beam its ends, the middle between them.
    piece : (m,) int
        Which piece of the path.
    swept : Swept or None
        The hexahedra as they were swept.
    edges : (k,) float, mm
        Arc lengths between layers of hexahedra, or between beams.
    """

    kind: Kind
    path: Path
    diameter: float
    nodes: Array
    elements: Ints
    piece: Ints
    edges: Array
    swept: Swept | None = None

    @classmethod
    def of(cls, geometry: Geometry, choice: Elements) -> MeshedWire:
        """Return a spring's wire in elements; raises SpecError where they are too many."""
        path, d = geometry.path, geometry.wire_diameter
        across = choice.across(d)
        choice.require(_at_least(path, across, choice.core(d), choice.kind), d)
        edges = layers(path, d, across, geometry.load_s)
        if choice.kind == "beams":
            return cls._of_beams(path, d, edges)
        section = Section.of(choice.core(d))
        choice.require(len(edges) * len(section.flat), d)
        swept = Swept(path, d, section, edges, 2 if choice.kind == "hex20" else 1)
        return cls(choice.kind, path, d, swept.nodes, swept.elements, swept.piece, edges, swept)

    @classmethod
    def _of_beams(cls, path: Path, d: float, edges: Array) -> MeshedWire:
        s = np.sort(np.concatenate([edges, (edges[1:] + edges[:-1]) / 2]))
        first = 2 * np.arange(len(edges) - 1)
        piece = path.find((edges[1:] + edges[:-1]) / 2)
        elements = np.stack([first, first + 2, first + 1], axis=1)
        return cls("beams", path, d, path.point(s), elements, piece, edges)

    @cached_property
    def sets(self) -> Mapping[str, Ints]:
        """Elements by the name of their set: ``BODY``, ``FIRST_END``, ``BENDS``, ``FIRST_LOOP``."""
        found: dict[str, list[int]] = {}
        for i, piece in enumerate(self.path.pieces):
            end, _, rest = piece.label.partition(".")
            names = (
                ["BODY"] if piece.role == "body" else [_ROLES[piece.role], set_name(end) + "_END"]
            )
            if rest:
                names.append(set_name(piece.label))
            for name in dict.fromkeys(names):
                found.setdefault(name, []).append(i)
        sets = {name: np.flatnonzero(np.isin(self.piece, of)) for name, of in found.items()}
        # a piece too short for a layer of its own is in none
        return {name: of for name, of in sets.items() if len(of)}

    @property
    def volume(self) -> float:
        """Volume of the elements, mm³; of beams that of the wire."""
        if self.swept is None:
            return math.pi / 4 * self.diameter**2 * self.path.length
        return volume(self.nodes, self.elements)[0]

    def section_at(self, s: float) -> tuple[Ints, Array]:
        """Return the nodes at a cut, mm, and their shares in its mean, ``(k,)`` each."""
        if self.swept is not None:
            return self.swept.at(s)
        return np.array([2 * int(np.argmin(np.abs(self.edges - s)))]), np.ones(1)

    def between(self, low: float, high: float) -> Ints:
        """Return the nodes of the wire between two arc lengths, mm, in rising order."""
        if self.swept is not None:
            return self.swept.between(low, high)
        s = np.sort(np.concatenate([self.edges, (self.edges[1:] + self.edges[:-1]) / 2]))
        slack = 1e-9 * self.path.length
        return np.flatnonzero((s >= low - slack) & (s <= high + slack))


def set_name(label: str) -> str:
    """Return the name of a set for a piece's label: ``first.bend`` is ``FIRST_BEND``."""
    return re.sub(r"[^A-Z0-9]+", "_", label.upper()).strip("_")


def _at_least(path: Path, across: float, core: int, kind: Kind) -> float:
    """Return a rough count of nodes, before anything is laid out."""
    turns = sum(p.segment.length * p.segment.max_curvature for p in path.pieces) / (2 * np.pi)
    rows = 2 * max(turns * PER_TURN, path.length / (8 * across))
    return float(rows * (1 if kind == "beams" else 5.0 * core * core))

"""The wire in elements for meshio: cells, what each belongs to, and the surface."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

from springgeo.elements import MeshedWire
from springgeo.elements.o_grid import Ints
from springgeo.elements.wire import set_name
from springgeo.files.publish.exporter import ExportJob
from springgeo.optional import need

_CELL = {"hex20": "hexahedron20", "hex8": "hexahedron", "beams": "line3"}
_FACE = {"hex20": "quad8", "hex8": "quad"}
SURFACE = "SURFACE"


def names(wire: MeshedWire) -> tuple[list[str], Ints]:
    """Return names of the wire's parts, and which each element belongs to, ``(n,) int``.

    ``BODY``, ``FIRST_BEND`` and so on: no element is in two.
    """
    labels = [set_name(p.label) for p in wire.path.pieces]
    known = list(dict.fromkeys(labels))
    return known, np.array([known.index(label) for label in labels], dtype=np.intp)[wire.piece]


def write_mesh(target: Path, job: ExportJob, file_format: str, **options: object) -> None:
    """Write a spring's wire by meshio; raises MissingLibraryError without it."""
    meshio = need("meshio", f"a {target.suffix[1:]} file of finite elements", "analysis")
    wire = MeshedWire.of(job.geometry, job.elements)
    known, member = names(wire)
    s = (wire.edges[1:] + wire.edges[:-1]) / 2
    along = np.repeat(s, len(wire.elements) // len(s))
    cells: list[tuple[str, Ints]] = [(_CELL[wire.kind], wire.elements)]
    data: dict[str, list[Any]]
    if file_format == "gmsh22":
        tags = [member.astype(np.int32) + 1]
        dimension = 1 if wire.swept is None else 3
        fields = {name: np.array([i + 1, dimension]) for i, name in enumerate(known)}
        if wire.swept is not None:
            cells.append((_FACE[wire.kind], wire.swept.surface_nodes))
            tags.append(np.full(len(wire.swept.surface_nodes), len(known) + 1, dtype=np.int32))
            fields[SURFACE] = np.array([len(known) + 1, 2])
        data = {"gmsh:physical": tags, "gmsh:geometrical": tags}
    else:
        fields = {}
        data = {"part": [member.astype(np.int32)], "arc_length": [along]}
    mesh = meshio.Mesh(wire.nodes, cells, cell_data=data, field_data=fields)
    meshio.write(target, mesh, file_format=file_format, **options)

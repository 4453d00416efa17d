"""Triangles and attachments of a 3MF package written by this package."""

from __future__ import annotations

import zipfile
import zlib
from io import BytesIO
from xml.etree import ElementTree as ET

import numpy as np

from springgeo.files.formats.threemf_package import CORE, MODEL
from springgeo.mesh import Mesh

_LARGEST = 1_000_000_000


def read_threemf(data: bytes) -> tuple[Mesh, dict[str, str]]:
    """Return all triangles in their own coordinates, and attachments by name without ending.

    Raises
    ------
    ValueError
        Not a zip, damaged, or not a 3MF model in millimetres.
    """
    try:
        with zipfile.ZipFile(BytesIO(data)) as archive:
            if sum(i.file_size for i in archive.infolist()) > _LARGEST:
                raise ValueError("a 3MF file that unpacks to more than 1 GB")
            names = set(archive.namelist())
            if MODEL not in names:
                raise ValueError(f"not a 3MF file: it has no {MODEL}")
            model = archive.read(MODEL)
            words = {
                name[len("Metadata/") : -len(".json")]: archive.read(name).decode("utf-8")
                for name in names
                if name.startswith("Metadata/") and name.endswith(".json")
            }
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError) as exc:
        raise ValueError(f"not a sound 3MF file: {exc}") from None
    return _mesh(model), words


def _mesh(model: bytes) -> Mesh:
    if b"<!DOCTYPE" in model or b"<!ENTITY" in model:
        raise ValueError("a 3MF model with a document type, which the format forbids")
    try:
        root = ET.fromstring(model)
    except ET.ParseError as exc:
        raise ValueError(f"not a sound 3MF model: {exc}") from None
    if root.get("unit", "millimeter") != "millimeter":
        raise ValueError(f"its unit is {root.get('unit')}; only millimetres are read")
    space = f"{{{CORE}}}"
    points: list[list[float]] = []
    faces: list[list[int]] = []
    for mesh in root.iter(f"{space}mesh"):
        start = len(points)
        points += [[float(v.attrib[k]) for k in "xyz"] for v in mesh.iter(f"{space}vertex")]
        faces += [
            [start + int(t.attrib[k]) for k in ("v1", "v2", "v3")]
            for t in mesh.iter(f"{space}triangle")
        ]
    if faces and not 0 <= min(map(min, faces)) <= max(map(max, faces)) < len(points):
        raise ValueError("a triangle names a corner that is not there")
    vertices = np.array(points, dtype=float).reshape(-1, 3)
    return Mesh(vertices, np.array(faces, dtype=np.int32).reshape(-1, 3))

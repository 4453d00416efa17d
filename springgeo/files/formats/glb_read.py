"""Triangles and extras of a GLB file written by this package."""

from __future__ import annotations

import json
import struct
from typing import Any

import numpy as np
import numpy.typing as npt

from springgeo.files.formats.glb import TURN
from springgeo.files.publish.detail import joined
from springgeo.mesh import Mesh
from springgeo.text.safe_json import parse_json


def read_glb(data: bytes) -> tuple[Mesh, dict[str, str]]:
    """Return the triangles in mm, z along the spring, and the springgeo extras as JSON text.

    Raises
    ------
    ValueError, KeyError, TypeError, IndexError, AttributeError
        Not a GLB file, damaged, or built otherwise than this package does.
    """
    document, binary = _chunks(data)
    words: dict[str, str] = {}
    for node in document.get("nodes", []):
        extras = node.get("extras") if isinstance(node, dict) else None
        if isinstance(extras, dict):
            words |= {k: json.dumps(v) for k, v in extras.items() if k.startswith("springgeo-")}
    if not words:
        raise ValueError("a GLB file, but without a springgeo summary")
    found = [_mesh(document, binary, mesh["primitives"][0]) for mesh in document["meshes"]]
    if not found:
        raise ValueError("a GLB file without a mesh")
    return joined(found), words


def _mesh(document: dict[str, Any], binary: bytes, primitive: dict[str, Any]) -> Mesh:
    points = _array(document, binary, primitive["attributes"]["POSITION"], "<f4", 3)
    faces = _array(document, binary, primitive["indices"], "<u4", 3)
    if faces.size and int(faces.max()) >= len(points):
        raise ValueError("a triangle names a corner that is not there")
    return Mesh(points.astype(float) @ TURN.T * 1000, faces.astype(np.int32))


def _chunks(data: bytes) -> tuple[dict[str, Any], bytes]:
    if len(data) < 20 or data[:4] != b"glTF":
        raise ValueError("not a GLB file")
    version, size = struct.unpack_from("<II", data, 4)
    if version != 2 or size != len(data):
        raise ValueError(f"not a sound GLB 2 file: it says {size} bytes and has {len(data)}")
    chunks, at = {}, 12
    while at + 8 <= size:
        length, kind = struct.unpack_from("<I4s", data, at)
        if at + 8 + length > size:
            raise ValueError("not a sound GLB file: a chunk is cut short")
        chunks[kind] = data[at + 8 : at + 8 + length]
        at += 8 + length
    try:
        document = parse_json(chunks.get(b"JSON", b""))
    except ValueError as exc:
        raise ValueError(f"not a sound GLB file: its JSON {exc}") from None
    return document, chunks.get(b"BIN\0", b"")


def _array(
    document: dict[str, Any], binary: bytes, index: int, kind: str, width: int
) -> npt.NDArray[Any]:
    view: dict[str, Any] = document["bufferViews"][document["accessors"][index]["bufferView"]]
    start, length = view.get("byteOffset", 0), view["byteLength"]
    if not (isinstance(start, int) and isinstance(length, int)):
        raise ValueError("not a sound GLB file: a length is not a whole number")
    if start < 0 or length < 0 or length % (4 * width) or start + length > len(binary):
        raise ValueError("not a sound GLB file: its buffer is cut short")
    return np.frombuffer(binary[start : start + length], dtype=kind).reshape(-1, width)

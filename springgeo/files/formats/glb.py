"""Binary glTF 2.0: triangles in metres, Y up, with the summary in the node's extras."""

from __future__ import annotations

import json
import struct
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import numpy as np

from springgeo.colours import STEEL
from springgeo.curve.frame import Array
from springgeo.files.publish.exporter import Exporter, ExportJob
from springgeo.mesh import Mesh

_FLOAT, _UINT, _VERTICES, _INDICES = 5126, 5125, 34962, 34963
# from our x, y, z in mm to glTF's x right, y up, z toward the viewer, in m
TURN = np.array([[1.0, 0.0, 0.0], [0.0, 0.0, -1.0], [0.0, 1.0, 0.0]])


def write(target: Path, job: ExportJob) -> None:
    """Write the meshes and everything known about them."""
    extras = {
        "springgeo-summary": job.summary.model_dump(mode="json"),
        "springgeo-shape": job.mesh_facts(),
    }
    target.write_bytes(glb_bytes(job.meshes, job.stem, extras))


def glb_bytes(meshes: Sequence[tuple[str, Mesh]], name: str, extras: dict[str, Any]) -> bytes:
    """Return meshes as one GLB file, a node for each; the same input, the same bytes.

    One mesh takes the name of the whole; several hang on a node of that name.
    """
    named = meshes if len(meshes) > 1 else [(name, meshes[0][1])]
    views: list[dict[str, Any]] = []
    accessors: list[dict[str, Any]] = []
    shapes: list[dict[str, Any]] = []
    blocks: list[bytes] = []
    for label, mesh in named:
        first = len(accessors)
        for block, view, accessor in _arrays(mesh):
            start = sum(map(len, blocks))
            views.append({"buffer": 0, "byteOffset": start, "byteLength": len(block), **view})
            accessors.append({"bufferView": len(accessors), **accessor})
            blocks.append(block)
        attributes = {"POSITION": first, "NORMAL": first + 1}
        surface = {"attributes": attributes, "indices": first + 2, "material": 0}
        shapes.append({"name": label, "primitives": [surface]})
    document = {
        "asset": {"version": "2.0", "generator": "springgeo"},
        "scene": 0,
        "scenes": [{"name": name, "nodes": [0]}],
        "nodes": _nodes([label for label, _ in named], name, extras),
        "meshes": shapes,
        "materials": [
            {
                "name": "steel",
                "pbrMetallicRoughness": {
                    "baseColorFactor": list(STEEL),
                    "metallicFactor": 0.9,
                    "roughnessFactor": 0.4,
                },
            }
        ],
        "accessors": accessors,
        "bufferViews": views,
        "buffers": [{"byteLength": sum(map(len, blocks))}],
    }
    text = json.dumps(document, ensure_ascii=True, allow_nan=False).encode("ascii")
    return _container(text, b"".join(blocks))


def _nodes(labels: list[str], name: str, extras: dict[str, object]) -> list[dict[str, object]]:
    if len(labels) == 1:
        return [{"name": name, "mesh": 0, "extras": extras}]
    children = list(range(1, len(labels) + 1))
    parts = [{"name": label, "mesh": i} for i, label in enumerate(labels)]
    return [{"name": name, "children": children, "extras": extras}, *parts]


def _arrays(mesh: Mesh) -> Iterator[tuple[bytes, dict[str, object], dict[str, object]]]:
    """Yield positions, normals and indices: bytes, and what view and accessor say of them."""
    points = (mesh.vertices @ TURN / 1000).astype("<f4")
    normals = (_normals(mesh) @ TURN).astype("<f4")
    vector: dict[str, object] = {"componentType": _FLOAT, "count": len(points), "type": "VEC3"}
    bounds = {"min": points.min(axis=0).tolist(), "max": points.max(axis=0).tolist()}
    yield points.tobytes(), {"target": _VERTICES}, vector | bounds
    yield normals.tobytes(), {"target": _VERTICES}, vector
    corners = {"componentType": _UINT, "count": int(mesh.faces.size), "type": "SCALAR"}
    yield mesh.faces.astype("<u4").tobytes(), {"target": _INDICES}, corners


def _container(text: bytes, binary: bytes) -> bytes:
    text += b" " * (-len(text) % 4)
    binary += b"\0" * (-len(binary) % 4)
    chunks = [(b"JSON", text), (b"BIN\0", binary)]
    size = 12 + sum(8 + len(data) for _, data in chunks)
    return b"".join(
        [
            struct.pack("<4sII", b"glTF", 2, size),
            *(struct.pack("<I4s", len(data), kind) + data for kind, data in chunks),
        ]
    )


def _normals(mesh: Mesh) -> Array:
    """Return a unit normal per corner, the mean of its triangles by area."""
    p = mesh.triangles
    across = np.cross(p[:, 1] - p[:, 0], p[:, 2] - p[:, 0])
    total = np.zeros_like(mesh.vertices)
    for k in range(3):
        np.add.at(total, mesh.faces[:, k], across)
    size = np.linalg.norm(total, axis=1, keepdims=True)
    up = np.array([0.0, 0.0, 1.0])
    return np.where(size > 0, total / np.where(size > 0, size, 1.0), up)


EXPORTER = Exporter("glb", "glb", "triangles for the web, with all data, GLB, metres, Y up", write)

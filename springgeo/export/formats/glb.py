"""Binary glTF 2.0: triangles in metres, Y up, with the summary in the node's extras."""

from __future__ import annotations

import json
import struct
from pathlib import Path
from typing import Any

import numpy as np

from springgeo.curve.frame import Array
from springgeo.export.exporter import Exporter, ExportJob
from springgeo.mesh import Mesh

_STEEL = [0.34, 0.37, 0.41, 1.0]  # linear RGB
_FLOAT, _UINT, _VERTICES, _INDICES = 5126, 5125, 34962, 34963
# from our x, y, z in mm to glTF's x right, y up, z toward the viewer, in m
TURN = np.array([[1.0, 0.0, 0.0], [0.0, 0.0, -1.0], [0.0, 1.0, 0.0]])


def write(target: Path, job: ExportJob) -> None:
    """Write the mesh and everything known about it."""
    extras = {
        "springgeo-summary": job.summary.model_dump(mode="json"),
        "springgeo-shape": job.mesh_facts(),
    }
    target.write_bytes(glb_bytes(job.mesh, job.stem, extras))


def glb_bytes(mesh: Mesh, name: str, extras: dict[str, Any]) -> bytes:
    """Return a mesh as one GLB file; the same input, the same bytes."""
    points = (mesh.vertices @ TURN / 1000).astype("<f4")
    normals = (_normals(mesh) @ TURN).astype("<f4")
    blocks = [points.tobytes(), normals.tobytes(), mesh.faces.astype("<u4").tobytes()]
    offsets = np.cumsum([0, *(len(b) for b in blocks)]).tolist()
    count = len(points)
    document = {
        "asset": {"version": "2.0", "generator": "springgeo"},
        "scene": 0,
        "scenes": [{"name": name, "nodes": [0]}],
        "nodes": [{"name": name, "mesh": 0, "extras": extras}],
        "meshes": [
            {
                "name": name,
                "primitives": [
                    {"attributes": {"POSITION": 0, "NORMAL": 1}, "indices": 2, "material": 0}
                ],
            }
        ],
        "materials": [
            {
                "name": "steel",
                "pbrMetallicRoughness": {
                    "baseColorFactor": _STEEL,
                    "metallicFactor": 0.9,
                    "roughnessFactor": 0.4,
                },
            }
        ],
        "accessors": [
            {
                "bufferView": 0,
                "componentType": _FLOAT,
                "count": count,
                "type": "VEC3",
                "min": points.min(axis=0).tolist(),
                "max": points.max(axis=0).tolist(),
            },
            {"bufferView": 1, "componentType": _FLOAT, "count": count, "type": "VEC3"},
            {
                "bufferView": 2,
                "componentType": _UINT,
                "count": int(mesh.faces.size),
                "type": "SCALAR",
            },
        ],
        "bufferViews": [
            {"buffer": 0, "byteOffset": start, "byteLength": len(block), "target": kind}
            for start, block, kind in zip(
                offsets, blocks, (_VERTICES, _VERTICES, _INDICES), strict=False
            )
        ],
        "buffers": [{"byteLength": offsets[-1]}],
    }
    text = json.dumps(document, ensure_ascii=True, allow_nan=False).encode("ascii")
    return _container(text, b"".join(blocks))


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

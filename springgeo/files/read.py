"""The data and the measured geometry of a file, by its format."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from springgeo.curve.frame import Array
from springgeo.errors import FileError
from springgeo.files.formats.glb_read import read_glb
from springgeo.files.formats.threemf_read import read_threemf
from springgeo.mesh import Mesh
from springgeo.mesh.stl import read_stl

LARGEST = 2_000_000_000


@dataclass(frozen=True, eq=False)
class Found:
    """What a file holds; ``digest`` names the summary it belongs to where it is not inside."""

    format: str
    summary: dict[str, Any] | None
    shape: dict[str, Any] | None
    volume: float
    box: Array
    digest: str = ""
    is_mesh: bool = True


def read_found(path: Path) -> Found:
    """Return what a STEP, STL, 3MF or GLB file holds; raises FileError."""
    kind = path.suffix.lower()
    if kind not in (".step", ".stp", ".stl", ".3mf", ".glb"):
        raise FileError(f"cannot inspect {path}: give a file ending in .step, .stl, .3mf or .glb")
    try:
        if path.stat().st_size > LARGEST:
            raise FileError(f"cannot inspect {path}: larger than {LARGEST} bytes")
        if kind in (".step", ".stp"):
            return _step(path)
        data = path.read_bytes()
    except FileError:
        raise
    except OSError as exc:
        raise FileError(f"cannot read {path}: {(exc.strerror or str(exc)).lower()}") from None
    try:
        if kind == ".stl":
            return _stl(data)
        mesh, words = read_threemf(data) if kind == ".3mf" else read_glb(data)
        return _mesh(kind[1:].upper(), mesh, words)
    except (ValueError, KeyError, TypeError, IndexError, RecursionError, OverflowError) as exc:
        reason = " ".join(str(exc).split())[:200] or type(exc).__name__
        raise FileError(f"cannot inspect {path}: {reason}") from None


def _step(path: Path) -> Found:
    from springgeo.files.step.read import read_step
    from springgeo.solid import exact_box, volume

    content = read_step(path)
    words = {
        key: str(content.attributes[key].value)
        for key in ("springgeo-summary", "springgeo-shape")
        if key in content.attributes
    }
    if "springgeo-summary" not in words:
        raise FileError(f"cannot inspect {path}: a STEP file, but without a springgeo summary")
    try:
        summary = _dict(words["springgeo-summary"])
        shape = _dict(words["springgeo-shape"]) if "springgeo-shape" in words else None
    except ValueError:
        raise FileError(f"cannot inspect {path}: its summary is damaged") from None
    box = np.asarray(exact_box(content.shape), dtype=float)
    return Found("STEP", summary, shape, volume(content.shape), box, is_mesh=False)


def _stl(data: bytes) -> Found:
    header, triangles = read_stl(data)
    found = re.search(r"summary=([0-9a-f]{16})", header)
    if not header.startswith("springgeo ") or found is None:
        raise ValueError("an STL file, but not one of springgeo: its header names no summary")
    corners = triangles.reshape(-1, 3).astype(np.float64)
    mesh = Mesh(corners, np.arange(len(corners), dtype=np.int32).reshape(-1, 3))
    return _measured("STL", mesh, None, None, found[1])


def _mesh(kind: str, mesh: Mesh, words: dict[str, str]) -> Found:
    if "springgeo-summary" not in words:
        raise ValueError(f"a {kind} file, but without a springgeo summary")
    shape = _dict(words["springgeo-shape"]) if "springgeo-shape" in words else None
    return _measured(kind, mesh, _dict(words["springgeo-summary"]), shape)


def _measured(
    kind: str,
    mesh: Mesh,
    summary: dict[str, Any] | None,
    shape: dict[str, Any] | None,
    digest: str = "",
) -> Found:
    if not len(mesh.faces):
        raise ValueError("it holds no triangles")
    box = np.array([mesh.vertices.min(axis=0), mesh.vertices.max(axis=0)])
    if not np.isfinite(mesh.vertices).all():
        raise ValueError("it has a coordinate that is not finite")
    return Found(kind, summary, shape, mesh.volume, box, digest)


def _dict(text: str) -> dict[str, Any]:
    data = json.loads(text)
    if not isinstance(data, dict):
        raise ValueError("its summary is not a mapping")
    return data

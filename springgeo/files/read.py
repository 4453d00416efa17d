"""The data and the measured geometry of a file, by its format."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from springgeo.curve.frame import Array
from springgeo.errors import FileError
from springgeo.files.formats.glb_read import read_glb
from springgeo.files.formats.inp_read import read_inp
from springgeo.files.formats.threemf_read import read_threemf
from springgeo.files.step.dimension.model import StatedDimension
from springgeo.mesh import Mesh
from springgeo.mesh.stl import read_stl
from springgeo.text.safe_json import parse_json

# mm
FURTHEST = 1e9


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
    dimensions: tuple[StatedDimension, ...] = ()


def read_found(path: Path) -> Found:
    """Return what a STEP, STL, 3MF, GLB or INP file holds; raises FileError.

    A damaged STEP file may bring the kernel down: read strangers' files by
    `springgeo.files.inspect.inspect_file`.
    """
    kind = path.suffix.lower()
    try:
        if kind in (".step", ".stp"):
            return _finite(_step(path))
        data = path.read_bytes()
        if kind == ".stl":
            return _finite(_stl(data))
        if kind == ".inp":
            volume, box, shape, digest = read_inp(data)
            return _finite(Found("INP", None, shape, volume, box, digest))
        mesh, words = read_threemf(data) if kind == ".3mf" else read_glb(data)
        return _finite(_mesh(kind[1:].upper(), mesh, words))
    except FileError:
        raise
    except OSError as exc:
        raise FileError(f"cannot read {path}: {(exc.strerror or str(exc)).lower()}") from None
    except ValueError as exc:
        reason = " ".join(str(exc).split())[:200] or type(exc).__name__
        raise FileError(f"cannot inspect {path}: {reason}") from None
    except (KeyError, TypeError, IndexError, AttributeError, OverflowError) as exc:
        # JSON of other types and other keys than this package writes
        reason = f"its data are built otherwise than expected ({' '.join(str(exc).split())[:150]})"
        raise FileError(f"cannot inspect {path}: {reason}") from None


def _finite(found: Found) -> Found:
    if not (math.isfinite(found.volume) and np.isfinite(found.box).all()):
        raise ValueError("its volume or its size is not finite")
    return found


def _step(path: Path) -> Found:
    from springgeo.files.step.dimension.read import read_dimensions
    from springgeo.files.step.read import read_step
    from springgeo.solid import exact_box, solids, volume

    content = read_step(path)
    words = {
        key: str(content.attributes[key].value)
        for key in ("springgeo-summary", "springgeo-shape")
        if key in content.attributes
    }
    if "springgeo-summary" not in words:
        raise FileError(f"cannot inspect {path}: a STEP file, but without a springgeo summary")
    summary = _dict(words["springgeo-summary"])
    shape = _dict(words["springgeo-shape"]) if "springgeo-shape" in words else None
    if not solids(content.shape):
        raise FileError(f"cannot inspect {path}: it holds no solid")
    box = np.asarray(exact_box(content.shape), dtype=float)
    stated = read_dimensions(path.read_text("ascii", "replace"))
    return Found("STEP", summary, shape, volume(content.shape), box, "", False, stated)


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
    if not (np.abs(mesh.vertices) <= FURTHEST).all():
        raise ValueError("it has a coordinate that is not finite, or beyond any spring")
    box = np.array([mesh.vertices.min(axis=0), mesh.vertices.max(axis=0)])
    return Found(kind, summary, shape, mesh.volume, box, digest)


def _dict(text: str) -> dict[str, Any]:
    try:
        return parse_json(text)
    except ValueError as exc:
        raise ValueError(f"its summary is damaged: it {exc}") from None

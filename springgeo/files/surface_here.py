"""Reads a part's surface in the process that may die of it: see `springgeo.files.surface`."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

from springgeo.curve.frame import Array
from springgeo.errors import FileError
from springgeo.mesh.triangles import Faces

# of a table: lines looked at for the first row of numbers, and the most numbers in one
_HEAD, _WIDEST = 200, 60


def surface_here(path: Path, kept: Path) -> dict[str, Any]:
    """Write points and triangles of a file to ``kept`` and return the rest; raises FileError."""
    kind = path.suffix.lower()
    try:
        if kind in (".step", ".stp"):
            points, faces, words = *_step(path), {"format": "STEP solid", "unit": 1.0}
        elif kind in (".xyz", ".csv", ".txt"):
            points, left = _table(path)
            faces = np.zeros((0, 3), dtype=np.int32)
            words = {"format": f"point cloud ({kind[1:].upper()})", "left_out": left, "unit": None}
        elif kind == ".3mf":
            points, faces, words = *_threemf(path), {"format": "3MF mesh", "unit": 1.0}
        else:
            points, faces = _mesh(path, kind)
            what = "mesh" if len(faces) else "point cloud"
            unit = 1000.0 if kind == ".glb" else None  # glTF 2.0, 3.4: all units are metres
            words = {"format": f"{kind[1:].upper()} {what}", "unit": unit}
    except (FileError, MemoryError):
        raise
    except OSError as exc:
        raise FileError(f"cannot read {path}: {(exc.strerror or str(exc)).lower()}") from None
    except ImportError:  # it guesses the letters of what is neither its binary nor its text form
        raise FileError(f"cannot recover {path}: it is damaged, or no {kind[1:]}") from None
    except Exception as exc:  # a reader for many formats raises many things
        reason = " ".join(str(exc).split())[:150] or type(exc).__name__
        raise FileError(
            f"cannot recover {path}: it is damaged, or no {kind[1:]} ({reason})"
        ) from None
    np.savez(kept, points=points, faces=faces)
    return words


def _mesh(path: Path, kind: str) -> tuple[Array, Faces]:
    import trimesh

    found = trimesh.load(path, file_type=kind[1:], process=False, skip_materials=True)
    if isinstance(found, trimesh.Scene):
        found = found.to_geometry()
    points = np.asarray(found.vertices, dtype=np.float64)
    faces = np.asarray(getattr(found, "faces", np.zeros((0, 3))), dtype=np.int32)
    return _shared(points, faces.reshape(-1, 3))


def _shared(points: Array, faces: Faces) -> tuple[Array, Faces]:
    """Return triangles that share their corners, without corners of none."""
    if not len(faces):
        return points, faces
    used, inverse = np.unique(points[faces.ravel()], axis=0, return_inverse=True)
    return used, inverse.reshape(-1, 3).astype(np.int32)


def _threemf(path: Path) -> tuple[Array, Faces]:
    from springgeo.files.formats.threemf_read import read_threemf

    mesh, _ = read_threemf(path.read_bytes())
    return _shared(mesh.vertices, mesh.faces)


def _step(path: Path) -> tuple[Array, Faces]:
    from springgeo.files.step.surface import surface_points

    return surface_points(path), np.zeros((0, 3), dtype=np.int32)


def _table(path: Path) -> tuple[Array, int]:
    """Return the first three numbers of each row, or those headed x, y, z; and rows without."""
    text = path.read_bytes().decode("utf-8-sig", "replace")
    lines = text.splitlines()
    apart, columns, first = _layout(lines[:_HEAD])
    rows = lines[first:]
    if apart == ";":
        rows = [line.replace(",", ".") for line in rows]
    try:
        found = np.loadtxt(rows, delimiter=apart, usecols=columns, ndmin=2, comments="#")
        return found, 0
    except ValueError:
        pass
    kept, left = [], 0
    for line in rows:
        cells = line.split(apart)
        try:
            kept.append([float(cells[c]) for c in columns])
        except (ValueError, IndexError):
            left += bool(line.strip())
    found = np.array(kept, dtype=np.float64).reshape(-1, 3)
    whole = np.isfinite(found).all(axis=1)
    return found[whole], left + int((~whole).sum())


def _layout(lines: list[str]) -> tuple[str | None, tuple[int, int, int], int]:
    """Return what parts the cells, which columns hold x, y, z, and the first line of numbers."""
    names: list[str] = []
    for at, line in enumerate(lines):
        for apart in (";", "\t", ",", None):
            cells = [c.strip().strip('"') for c in line.split(apart)][:_WIDEST]
            if len(cells) < 3:
                continue
            numbers = [_number(c, apart) for c in cells]
            if None not in numbers[:3]:
                return apart, _columns(names, len(cells)), at
            if any(n is None for n in numbers):
                names = [c.lower() for c in cells]
                break
    raise ValueError("no line of it holds three numbers")


def _number(cell: str, apart: str | None) -> float | None:
    try:
        return float(cell.replace(",", ".") if apart == ";" else cell)
    except ValueError:
        return None


def _columns(names: list[str], width: int) -> tuple[int, int, int]:
    found = []
    for letter in "xyz":
        # "x", "x [mm]", "//X", "x_mm"
        at = [i for i, n in enumerate(names[:width]) if n.lstrip('/#" ')[:1] == letter]
        if not at:
            return 0, 1, 2
        found.append(at[0])
    return found[0], found[1], found[2]

"""Binary STL: 80 bytes of header, a count, and 50 bytes for every triangle."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from springgeo.mesh.triangles import Mesh

_HEADER = 80
_RECORD = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])


def stl_bytes(mesh: Mesh, header: str) -> bytes:
    """Return the mesh as a binary STL file, coordinates in mm; the same input, the same bytes.

    Parameters
    ----------
    mesh : Mesh
    header : str
        At most 80 ASCII characters, padded with spaces. It must not start with "solid", by
        which many readers tell the text form.

    Raises
    ------
    ValueError
        The header is too long, not printable ASCII, or starts with "solid"; or a coordinate
        is too large for single precision.
    """
    top = _header_bytes(header)
    if not np.abs(mesh.vertices).max(initial=0.0) < np.finfo(np.float32).max:
        raise ValueError("the mesh has a coordinate that is not finite in single precision")
    corners = mesh.vertices.astype("<f4")[mesh.faces]
    records = np.zeros(len(corners), dtype=_RECORD)
    records["corners"] = corners
    records["normal"] = _normals(corners)
    return top + np.array([len(corners)], dtype="<u4").tobytes() + records.tobytes()


def read_stl(data: bytes) -> tuple[str, npt.NDArray[np.float32]]:
    """Return header (padding removed) and triangles ``(m, 3, 3) float32`` of a binary STL file.

    Raises
    ------
    ValueError
        The data is shorter or longer than its own count says; text files are not read.
    """
    if len(data) < _HEADER + 4:
        raise ValueError(f"not a binary STL file: {len(data)} bytes, fewer than its 84 of heading")
    count = int(np.frombuffer(data, dtype="<u4", count=1, offset=_HEADER)[0])
    due = _HEADER + 4 + count * _RECORD.itemsize
    if len(data) != due:
        raise ValueError(
            f"not a sound binary STL file: {count} triangles take {due} bytes, it has {len(data)}"
        )
    records = np.frombuffer(data, dtype=_RECORD, offset=_HEADER + 4)
    header = data[:_HEADER].decode("ascii", errors="replace").rstrip(" \0")
    return header, records["corners"].astype(np.float32)


def _header_bytes(header: str) -> bytes:
    if not (header.isascii() and (header.isprintable() or not header)):
        raise ValueError("the STL header must be printable ASCII")
    if len(header) > _HEADER:
        raise ValueError(f"the STL header has {len(header)} characters, more than {_HEADER}")
    if header.lstrip().lower().startswith("solid"):
        raise ValueError("the STL header must not start with 'solid', the mark of a text file")
    return header.ljust(_HEADER).encode("ascii")


def _normals(corners: npt.NDArray[np.float32]) -> npt.NDArray[np.float64]:
    """Return unit normals of the rounded corners; zero where rounding left no area."""
    # one component after the other: of so many rows of three numpy is slow
    first, *others = corners.astype(np.float64).transpose(1, 2, 0).copy()
    (a, b, c), (d, e, f) = (other - first for other in others)
    n = np.stack([b * f - c * e, c * d - a * f, a * e - b * d])
    size = np.sqrt(n[0] * n[0] + n[1] * n[1] + n[2] * n[2])
    unit: npt.NDArray[np.float64] = np.divide(n, size, out=np.zeros_like(n), where=size > 0)
    return unit.T

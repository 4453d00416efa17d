"""Points on the surface of a part, from a mesh, a cloud or a solid of any origin.

The file is read in a child process (`springgeo.files.apart`), which leaves the points in a folder
of ours.
"""

from __future__ import annotations

import os
import tempfile
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from springgeo.curve.frame import Array
from springgeo.errors import FileError
from springgeo.files.apart import surface_apart

MESHES = ".stl", ".obj", ".ply", ".3mf", ".glb"
CLOUDS = ".xyz", ".csv", ".txt"
SOLIDS = ".step", ".stp"
# beyond any part, in any unit; and fewer tell nothing
FURTHEST, FEWEST = 1e9, 200


@dataclass(frozen=True, eq=False)
class Surface:
    """What was read of a part's surface, in the file's own unit.

    Attributes
    ----------
    format : str
        "STL", "point cloud (CSV)" and the like.
    points : (n, 3) float64
        On the surface: corners of triangles, points of a cloud, places on a solid's faces.
    faces : (m, 3) int32 or None
        Triangles between them, for a mesh.
    unit : float or None
        How many mm its unit is, where the file or its format says.
    left_out : int
        Lines of a table that hold no three finite numbers.
    """

    format: str
    points: Array
    faces: np.ndarray[tuple[int, int], np.dtype[np.int32]] | None
    unit: float | None
    left_out: int = 0

    def spread(self, most: int, seed: int = 0) -> Array:
        """Return at most so many points evenly over the surface, in no order.

        The same for the same seed.
        """
        rng = np.random.default_rng(seed)
        if self.faces is None or not len(self.faces):
            x = self.points
            return x[rng.permutation(len(x))[:most]]
        corners = self.points[self.faces]
        ab, ac = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
        area = np.linalg.norm(np.cross(ab, ac), axis=1)
        if not area.sum() > 0:
            raise FileError("it holds no triangles with an area")
        which = rng.choice(len(area), most, p=area / area.sum())
        u, v = rng.random((2, most, 1))
        over = (u + v) > 1
        u, v = np.where(over, 1 - u, u), np.where(over, 1 - v, v)
        sampled: Array = corners[which, 0] + u * ab[which] + v * ac[which]
        return sampled


def read_surface(path: str | os.PathLike[str]) -> Surface:
    """Return points on the surface of the part in a file.

    Raises
    ------
    FileError
        Not a regular file of a known ending, not readable, damaged, or holding fewer than 200
        points or points that are not finite.
    """
    place = Path(path)
    ending = place.suffix.lower()
    if ending not in MESHES + CLOUDS + SOLIDS:
        raise FileError(
            f"cannot recover {place}: give a mesh ({', '.join(MESHES)}), a point cloud "
            f"({', '.join(CLOUDS)}, .ply) or a solid ({', '.join(SOLIDS)})"
        )
    with tempfile.TemporaryDirectory(prefix="springgeo-") as folder:
        kept = Path(folder) / "surface.npz"
        answer = surface_apart(place, kept)
        try:
            with np.load(kept, allow_pickle=False) as held:
                points = np.asarray(held["points"], dtype=np.float64).reshape(-1, 3)
                faces = np.asarray(held["faces"], dtype=np.int32).reshape(-1, 3)
        except (OSError, ValueError, KeyError):
            raise FileError(
                f"cannot recover {place}: its points could not be handed over"
            ) from None
    unit = answer.get("unit")
    left = int(answer.get("left_out", 0))
    return _sound(
        place, Surface(str(answer["format"]), points, faces if len(faces) else None, unit, left)
    )


def _sound(place: Path, found: Surface) -> Surface:
    if not np.isfinite(found.points).all() or np.abs(found.points).max(initial=0.0) > FURTHEST:
        raise FileError(
            f"cannot recover {place}: it has a coordinate that is not finite, or beyond any part"
        )
    if found.faces is None and len(found.points) < FEWEST:
        raise FileError(
            f"cannot recover {place}: it holds {len(found.points)} points; at least {FEWEST} are "
            "needed to tell a spring from anything else"
        )
    faces = found.faces
    if faces is not None and not 0 <= int(faces.min()) <= int(faces.max()) < len(found.points):
        raise FileError(f"cannot recover {place}: a triangle names a corner that is not there")
    return found

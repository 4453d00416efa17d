"""What a written file says of itself, and whether its geometry still is what it says."""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from pydantic import ValidationError

from springgeo.errors import FileError, SpringgeoError
from springgeo.files.publish.detail import detail_mesh
from springgeo.files.read import Found, read_found

# greatest difference between what a file says and what it holds: volume relative to itself,
# box in mm relative to its diagonal; single precision costs 1e-6
VOLUME, BOX = 2e-5, 2e-6


@dataclass(frozen=True)
class Comparison:
    """One quantity as stated and as measured."""

    name: str
    unit: str
    stated: float
    measured: float
    ok: bool


@dataclass(frozen=True)
class Inspection:
    """A file's summary, what shape it should hold, and the comparison with what it holds."""

    path: Path
    format: str
    summary: dict[str, Any]
    source: str
    shape: dict[str, Any] | None
    comparisons: tuple[Comparison, ...]

    @property
    def matches(self) -> bool:
        """Whether every comparison agrees, and there was something to compare."""
        return bool(self.comparisons) and all(c.ok for c in self.comparisons)


def inspect_file(path: str | os.PathLike[str]) -> Inspection:
    """Return what a STEP, STL, 3MF or GLB file of this package says, and whether it holds.

    The stated volume and box come from the file itself, from the manifest beside it, or are
    computed anew from the specification in the summary.

    Raises
    ------
    FileError
        Not readable, corrupt, of another format, or without a springgeo summary.
    """
    place = Path(path)
    found = read_found(place)
    summary, shape, source = found.summary, found.shape, "inside the file"
    if summary is None:
        summary, shape, source = _beside(place, found)
    if not str(summary.get("schema_version", "")).startswith("springgeo-summary/"):
        raise FileError(f"cannot inspect {place}: its summary is of an unknown version")
    if shape is None:
        shape = _again(summary, found)
    return Inspection(place, found.format, summary, source, shape, _compare(shape, found))


def _beside(place: Path, found: Found) -> tuple[dict[str, Any], dict[str, Any] | None, str]:
    """Return summary and shape from the JSON files beside a file that has only a digest."""
    listed = _listed(place)
    if listed is None and found.digest:
        summary = _json(place.with_suffix(".json"))
        if summary is not None and _digest(summary) == found.digest:
            return summary, None, place.with_suffix(".json").name
        if summary is not None:
            raise FileError(
                f"cannot inspect {place}: {place.with_suffix('.json').name} beside it is of "
                "another build; build both again"
            )
    if listed is not None:
        entry, manifest = listed
        summary = _json(place.parent / str(manifest.get("summary")))
        if summary is not None and _digest(summary) == (found.digest or _digest(summary)):
            return summary, entry.get("shape"), str(manifest.get("summary"))
    raise FileError(
        f"cannot inspect {place}: no springgeo summary inside, and none of it in "
        f"{place.with_suffix('.json').name} beside it"
    )


def _listed(place: Path) -> tuple[dict[str, Any], dict[str, Any]] | None:
    manifest = _json(place.parent / "manifest.json")
    if manifest is None or not isinstance(manifest.get("files"), list):
        return None
    for entry in manifest["files"]:
        if isinstance(entry, dict) and entry.get("file") == place.name:
            return entry, manifest
    return None


def _json(path: Path) -> dict[str, Any] | None:
    try:
        data = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return None
    return data if isinstance(data, dict) else None


def _digest(summary: Mapping[str, Any]) -> str:
    text = json.dumps(summary, ensure_ascii=True)
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def _again(summary: dict[str, Any], found: Found) -> dict[str, Any] | None:
    """Return the shape of the free spring, computed anew from the specification inside."""
    from springgeo.specification.load import spec_of
    from springgeo.spring.model import SpringModel

    if not found.is_mesh:
        return None
    try:
        model = SpringModel.of(spec_of(summary["specification"]))
    except (KeyError, TypeError, ValidationError, SpringgeoError):
        return None
    mesh = detail_mesh(model.geometry, "exact")
    box = [mesh.vertices.min(axis=0).tolist(), mesh.vertices.max(axis=0).tolist()]
    return {"state": "free", "detail": "exact", "volume": mesh.volume, "box": box}


def _compare(shape: dict[str, Any] | None, found: Found) -> tuple[Comparison, ...]:
    if shape is None:
        return ()
    try:
        volume, box = float(shape["volume"]), np.asarray(shape["box"], dtype=float)
    except (KeyError, TypeError, ValueError):
        return ()
    if box.shape != (2, 3) or not np.isfinite(box).all():
        return ()
    bound = BOX * float(np.linalg.norm(box[1] - box[0]))
    off = abs(found.volume - volume) <= VOLUME * abs(volume)
    rows = [Comparison("volume", "mm^3", volume, found.volume, off)]
    for i, axis in enumerate("xyz"):
        stated, measured = box[:, i], found.box[:, i]
        near = bool(np.abs(stated - measured).max() <= bound)
        spans = float(stated[1] - stated[0]), float(measured[1] - measured[0])
        rows.append(Comparison(f"box {axis}", "mm", *spans, near))
    return tuple(rows)

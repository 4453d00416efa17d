"""What a written file says of itself, and whether its geometry still is what it says.

This runs in the process that reads: see `springgeo.files.inspect` for the other side.
"""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import numpy as np
from pydantic import ValidationError

from springgeo.errors import FileError, SpringgeoError
from springgeo.files.apart import same_folder
from springgeo.files.inspect import Comparison, Inspection
from springgeo.files.publish.detail import detail_mesh
from springgeo.files.read import Found, read_found
from springgeo.files.step.dimension.model import LABELS
from springgeo.text.json_value import Json
from springgeo.text.safe_json import parse_json

# greatest difference between what a file says and what it holds: volume relative to itself,
# box in mm relative to its diagonal; single precision costs 1e-6
VOLUME, BOX = 2e-5, 2e-6


def inspect_here(place: Path) -> Inspection:
    """Return what a file of this package says, and whether it holds; raises FileError.

    The stated volume and box come from the file itself, from the manifest beside it, or are
    computed anew from the specification in the summary.
    """
    found = read_found(place)
    summary, shape, source = found.summary, found.shape, "inside the file"
    if summary is None:
        summary, listed, source = _beside(place, found)
        shape = shape or listed
    if not str(summary.get("schema_version", "")).startswith("springgeo-summary/"):
        raise FileError(f"cannot inspect {place}: its summary is of an unknown version")
    if shape is None:
        shape = _again(summary, found)
    try:
        comparisons = () if shape is None else _compare(shape, found)
        comparisons += tuple(_dimensions(summary, found))
    except (KeyError, TypeError, ValueError, OverflowError):
        raise FileError(f"cannot inspect {place}: what it says of its shape is damaged") from None
    return Inspection(place, found.format, summary, source, shape, comparisons, found.dimensions)


def _beside(place: Path, found: Found) -> tuple[dict[str, Json], dict[str, Json] | None, str]:
    """Return summary and shape from the JSON files beside a file that has only a digest."""
    listed = _listed(place)
    if listed is None and found.digest:
        summary = _json(place, place.with_suffix(".json").name)
        if summary is not None and _digest(summary) == found.digest:
            return summary, None, place.with_suffix(".json").name
        if summary is not None:
            raise FileError(
                f"cannot inspect {place}: {place.with_suffix('.json').name} beside it is of "
                "another build; build both again"
            )
    if listed is not None:
        entry, manifest = listed
        summary = _json(place, manifest.get("summary"))
        if summary is not None and _digest(summary) == (found.digest or _digest(summary)):
            shape = entry.get("shape")
            stated = shape if isinstance(shape, dict) else None
            return summary, stated, str(manifest.get("summary"))
    raise FileError(
        f"cannot inspect {place}: no springgeo summary inside, and none of it in "
        f"{place.with_suffix('.json').name} beside it"
    )


def _listed(place: Path) -> tuple[dict[str, Json], dict[str, Json]] | None:
    manifest = _json(place, "manifest.json")
    if manifest is None or not isinstance(manifest.get("files"), list):
        return None
    for entry in manifest["files"]:
        if isinstance(entry, dict) and entry.get("file") == place.name:
            return entry, manifest
    return None


def _json(place: Path, name: object) -> dict[str, Any] | None:
    """Return the mapping in a JSON file beside ``place``, None where there is none to read."""
    beside = same_folder(place, name)
    try:
        return None if beside is None else parse_json(beside.read_bytes())
    except (OSError, ValueError):
        return None


def _digest(summary: Mapping[str, object]) -> str:
    text = json.dumps(summary, ensure_ascii=True)
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def _again(summary: dict[str, Any], found: Found) -> dict[str, Any] | None:
    """Return the shape of the free spring, computed anew from the specification inside."""
    from springgeo.specification.load import spec_of
    from springgeo.spring.model import SpringModel

    given = summary.get("specification")
    if not found.is_mesh or not isinstance(given, dict):
        return None
    try:
        mesh = detail_mesh(SpringModel.of(spec_of(given)).geometry, "exact")
    except (ValidationError, SpringgeoError, ValueError):
        return None
    box = [mesh.vertices.min(axis=0).tolist(), mesh.vertices.max(axis=0).tolist()]
    return {"state": "free", "detail": "exact", "volume": mesh.volume, "box": box}


def _dimensions(summary: dict[str, Any], found: Found) -> Iterator[Comparison]:
    """Yield the dimensions in the model against the summary; raises what wrong types raise."""
    fields = {label: field for field, label in LABELS.items()}
    for d in found.dimensions:
        field = fields.get(d.label)
        stated = summary["geometry"].get(field) if field is not None else None
        if stated is not None:
            near = math.isclose(float(stated), d.value, rel_tol=1e-9, abs_tol=1e-9)
            yield Comparison(f"model's {d.label}", d.unit, float(stated), d.value, near)


def _compare(shape: dict[str, Any], found: Found) -> tuple[Comparison, ...]:
    """Return the comparisons; raises what wrong types raise."""
    volume, box = float(shape["volume"]), np.asarray(shape["box"], dtype=float)
    if box.shape != (2, 3) or not (np.isfinite(box).all() and math.isfinite(volume)):
        raise ValueError("not a volume and a box")
    bound = BOX * float(np.linalg.norm(box[1] - box[0]))
    near = abs(found.volume - volume) <= VOLUME * abs(volume)
    rows = [Comparison("volume", "mm^3", volume, found.volume, near)]
    for i, axis in enumerate("xyz"):
        stated, measured = box[:, i], found.box[:, i]
        near = bool(np.abs(stated - measured).max() <= bound)
        spans = float(stated[1] - stated[0]), float(measured[1] - measured[0])
        rows.append(Comparison(f"box {axis}", "mm", *spans, near))
    return tuple(rows)

"""Reads a specification from a file, a mapping, or a preset by name."""

from __future__ import annotations

from collections.abc import Mapping
from importlib.resources import files
from importlib.resources.abc import Traversable
from os import PathLike
from pathlib import Path

from pydantic import ValidationError

from springgeo.errors import SpecError, refused
from springgeo.findings import nearest
from springgeo.specification import Spec
from springgeo.specification.bare import bare_fields, bare_finding
from springgeo.specification.end_names import spelled
from springgeo.specification.problems import findings_of
from springgeo.text.characters import shown
from springgeo.text.kinds import require_kind, require_text
from springgeo.text.text_file import text_of
from springgeo.text.yaml_text import read_yaml

DEFAULT_PRESET = "gate-latch"


def spec_of(data: Mapping[str, object]) -> Spec:
    """Return the validated specification of a mapping; raises SpecError."""
    data = spelled(data)
    try:
        spec = Spec.model_validate(data)
    except ValidationError as exc:
        found = findings_of(exc, Spec)
        if data.get("units") == "inch" and (bare := bare_fields(Spec, data)):
            # it may be what is wrong
            remark = bare_finding(bare).model_copy(update={"severity": "error"})
            found = (*found, remark)
        raise SpecError(found) from None
    return spec.remember_bare(bare_fields(Spec, data)) if spec.units == "inch" else spec


def read_spec(path: str | PathLike[str]) -> Spec:
    """Return the specification in a YAML file.

    Raises
    ------
    FileError
        The file cannot be read.
    SpecError
        It does not describe a spring that can be made.
    """
    return read_spec_text(path)[0]


def read_spec_text(path: str | PathLike[str]) -> tuple[Spec, str]:
    """Return the specification in a YAML file, and its text; raises as `read_spec`."""
    require_text(path, "specification")
    text, name = text_of(path), Path(path).name
    data = read_yaml(text, name)
    require_kind(data, "specification", shown(name))
    spec = spec_of(data)
    # a user's own material lies beside the specification that names it
    named = spec.wire.material
    if isinstance(named, str) and named.lower().endswith((".yaml", ".yml")):
        own = Path(path).parent / named
        if own.is_file():
            wire = spec.wire.model_copy(update={"material": str(own)})
            return spec.model_copy(update={"wire": wire}), text
    return spec, text


def presets() -> dict[str, Traversable]:
    """Return the embedded presets by name."""
    found: dict[str, Traversable] = {}
    for folder in _preset_folders():
        for entry in sorted(folder.iterdir(), key=lambda e: e.name):
            if entry.name.endswith(".yaml"):
                found.setdefault(entry.name.removesuffix(".yaml"), entry)
    return found


def read_preset(name: str) -> Spec:
    """Return an embedded preset; raises SpecError with the nearest names."""
    return read_preset_text(name)[0]


def read_preset_text(name: str) -> tuple[Spec, str]:
    """Return an embedded preset and its text; raises as `read_preset`."""
    known = presets()
    if name not in known:
        raise refused(
            "unknown-preset", "preset", f"'{name[:60]}' is not a preset; {nearest(name, known)}"
        )
    text = known[name].read_text(encoding="utf-8")
    return spec_of(read_yaml(text, name)), text


def _preset_folders() -> list[Traversable]:
    package = files("springgeo")
    # in a wheel the presets lie inside the package, in a checkout beside it
    places = [package.joinpath("presets"), Path(str(package)).parent / "presets"]
    return [p for p in places if p.is_dir()]

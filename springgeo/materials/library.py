"""Finds materials: those that come with the package by name, a user's own by path."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from springgeo.errors import SpecError, refused
from springgeo.findings import nearest
from springgeo.materials.material_file import POISSON, MaterialData
from springgeo.materials.model import Material
from springgeo.text import characters
from springgeo.text import quantity as q
from springgeo.text.safe_yaml import parse_own, parse_yaml
from springgeo.text.shown import said
from springgeo.text.text_file import text_of

_FIELD = "wire.material"
_ENDINGS = (".yaml", ".yml")
_NOT_A_MATERIAL = {"wire_sizes"}
_BRANCHES = {"table", "formula", "power"}


@cache
def _names() -> tuple[str, ...]:
    found = (Path(f.name) for f in files("springgeo.materials").joinpath("data").iterdir())
    return tuple(
        sorted(p.stem for p in found if p.suffix == ".yaml" and p.stem not in _NOT_A_MATERIAL)
    )


def names() -> list[str]:
    """Return the names of the materials that come with the package."""
    return list(_names())


def get(name: str | Mapping[str, Any]) -> Material:
    """Return a material by name, from a file if the name ends in .yaml or .yml, or from content.

    Content is a mapping as such a file holds it: a specification may carry one.

    Raises
    ------
    SpecError
        No such material (see `resolve`), or the file does not hold one.
    FileError
        The file cannot be read.
    """
    if isinstance(name, Mapping):
        return _material(dict(name), "the material given inline")
    name = str(name)
    return load(name) if is_path(name) else _built_in(resolve(name))


def resolve(name: str) -> str:
    """Return the identifier of a material by any name the trade has for it.

    ``music wire`` and ``A228`` are ``astm-a228``; the name of a file is returned as it is.

    Raises
    ------
    SpecError
        No such material (with the nearest names), or several share the name (with theirs).
    """
    if name in _names() or is_path(name):
        return name
    found = _aliases().get(_folded(name), ())
    if len(found) == 1:
        return found[0]
    shown = characters.shown(name[:60])
    if found:
        text = f"'{shown}' may be {', '.join(found[:-1])} or {found[-1]}; name one of them"
        raise refused("material-ambiguous", _FIELD, text)
    text = f"'{shown}' is not a material; {nearest(name, _names())}"
    raise refused("unknown-material", _FIELD, text)


@cache
def _aliases() -> dict[str, tuple[str, ...]]:
    found: dict[str, list[str]] = {}
    for name in _names():
        block = _data(name).get("aliases") or {"names": ()}
        for alias in {_folded(name), *(_folded(x) for x in block["names"])}:
            found.setdefault(alias, []).append(name)
    return {alias: tuple(names) for alias, names in found.items()}


def _folded(name: str) -> str:
    """Return a name without what people write in many ways; 1.4310 is the number 1.431 too."""
    text = re.sub(r"[\s_/-]+", "", name[:60].casefold())
    return text.rstrip("0") if re.fullmatch(r"\d+\.\d+", text) else text


def is_path(name: object) -> bool:
    """Return whether a material is named by the path of a user's own file."""
    return isinstance(name, str) and name.lower().endswith(_ENDINGS)


def embedded(name: Any, folder: Path | None = None) -> Any:
    """Return a material as a specification carries it: content in the place of a path.

    A path is looked for beside the file that names it, in ``folder``, first. Whatever is not a
    path comes back as it is. Raises as `load`.
    """
    if not is_path(name):
        return name
    beside = None if folder is None else folder / name
    return load(beside if beside is not None and _is_file(beside) else name).content


def with_content(data: dict[str, Any], folder: Path | None = None) -> dict[str, Any]:
    """Return the mapping of a specification with its material `embedded`."""
    wire = data.get("wire")
    if not isinstance(wire, Mapping) or not is_path(wire.get("material")):
        return data
    return data | {"wire": {**wire, "material": embedded(wire["material"], folder)}}


def _is_file(path: Path) -> bool:
    try:
        return path.is_file()
    except (OSError, ValueError):
        return False


@cache
def _built_in(name: str) -> Material:
    return _material(_data(name), f"file '{name}'")


def _data(name: str) -> dict[str, Any]:
    file = files("springgeo.materials").joinpath("data", f"{name}.yaml")
    return parse_own(file.read_text(encoding="utf-8"))


def load(path: str | Path) -> Material:
    """Return the material of a user's own file, laid out like those in ``data``.

    Raises
    ------
    FileError
        The file is missing, too large, or cannot be read.
    SpecError
        It is not YAML, or not a material; says where.
    """
    shown = f"file '{characters.shown(Path(path).name[:80])}'"
    try:
        data = parse_yaml(text_of(path))
    except ValueError as exc:
        raise _problem(shown, str(exc)) from None
    return _material(data, shown)


def _material(data: dict[str, Any], shown: str) -> Material:
    try:
        material = Material(MaterialData.model_validate(data))
    except ValidationError as exc:
        first = exc.errors(include_input=False, include_url=False)[0]
        # leave out the names of union branches, which a reader of the file has never seen
        place = ".".join(p for p in map(str, first["loc"]) if "[" not in p and p not in _BRANCHES)
        place = place or "material"
        raise _problem(shown, f"{place}: {first['msg'].removeprefix('Value error, ')}") from None
    except (OverflowError, RecursionError):
        raise _problem(shown, "holds a number or nesting beyond what is readable") from None
    _require_moduli(material, shown)
    return material


def _require_moduli(material: Material, shown: str) -> None:
    data = material.data
    units = {"mm": 1.0, "in": 25.4}
    ends = [
        end * units[block.length]
        for block in (data.shear_modulus, data.elastic_modulus)
        for end, _ in block.rows
        if end is not None
    ]
    for d in [*ends, 2 * max(ends, default=1.0)]:
        ratio = material.poisson(d)
        if not POISSON[0] <= ratio <= POISSON[1]:
            words = said(
                "at {d} wire E/(2G) - 1 is {ratio}, but {poisson} to {poisson_2} is possible",
                d=q.length(d, 4),
                ratio=q.number(ratio, 3),
                poisson=q.number(POISSON[0], 6),
                poisson_2=q.number(POISSON[1], 6),
            )
            raise _problem(shown, f"shear_modulus and elastic_modulus do not fit together: {words}")


def _problem(shown: str, words: str) -> SpecError:
    text = " ".join(f"{shown}: {words}".split())[:400]
    return refused("bad-material-file", _FIELD, text)

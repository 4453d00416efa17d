"""Reads a family: a CSV or Parquet table with dotted keys, or a YAML of a base and what varies."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping
from os import PathLike
from pathlib import Path
from typing import Any

from springgeo import materials
from springgeo.errors import FileError, SpecError, SpringgeoError
from springgeo.family.member import Member
from springgeo.files.publish.bundle import file_stem
from springgeo.findings import error
from springgeo.optional import need
from springgeo.specification.end_names import spelled, spelled_key
from springgeo.text.characters import shown
from springgeo.text.json_value import Json
from springgeo.text.kinds import require_text
from springgeo.text.quantity import Units
from springgeo.text.table import Row, separator
from springgeo.text.table import rows as text_rows
from springgeo.text.text_file import opened, text_of
from springgeo.text.yaml_text import yaml_of

LARGEST = 100_000
# words of a dotted key; a specification has no place deeper
DEEPEST = 8
# columns of a table; a specification has not a tenth as many keys
WIDEST = 1000
TABLE_BYTES = 200_000_000
# levels of a dotted key
DEEPEST = 10


def read_family(
    path: str | PathLike[str], *, whole: bool = True, units: Units | None = None
) -> tuple[Member, ...]:
    """Return the members of a family file.

    CSV and Parquet: the columns are keys such as ``wire.diameter`` or ``ends.first.style``; an
    empty cell leaves the key out; several loads stand in one cell with semicolons, in Parquet
    also as a list. A CSV may part its cells with commas, semicolons or tabs. YAML: ``base``, a
    specification, and ``vary``, lists of values by dotted key, of which every combination is made.
    A user's own material file, beside the table, comes into each member by its content. What is
    said of a member is in ``units``, or in those of its specification.

    Raises
    ------
    FileError
        The file cannot be read.
    SpecError
        It is not a table or a grid, two members have the same name, or a material file is bad.
    MissingLibraryError
        It is Parquet and pyarrow is not installed.
    """
    place = Path(path)
    require_text(place, "family", tables=True)
    rows: Iterator[dict[str, Json]]
    if place.suffix.lower() in (".parquet", ".pq"):
        rows = _parquet(place)
    elif place.suffix.lower() in (".csv", ".tsv"):
        rows = _csv(text_of(place, TABLE_BYTES), place.name)
    else:
        rows = _grid(yaml_of(place, "family"), place.name)
    members, seen = [], dict[str, int]()
    own = _OwnMaterials(place.parent)
    for number, row in enumerate(itertools.islice(rows, LARGEST + 1), 1):
        data = own.into(row)
        data.setdefault("name", f"member {number}")
        stem = file_stem(str(data["name"]))
        if stem in seen:
            raise _bad(
                place.name,
                f"members {seen[stem]} and {number} would both be '{stem}'; "
                "give them different names",
            )
        seen[stem] = number
        members.append(Member(number, stem, data, whole, units))
    if not members:
        raise _bad(place.name, "holds no member; add a row")
    if len(members) > LARGEST:
        raise _bad(place.name, f"holds more than {LARGEST} members; split it")
    return tuple(members)


class _OwnMaterials:
    """The content of users' material files, each read once."""

    def __init__(self, folder: Path) -> None:
        self._folder, self._known = folder, dict[str, dict[str, Any]]()

    def into(self, data: dict[str, Any]) -> dict[str, Any]:
        """Return a specification with its material's content; raises as `materials.load`."""
        wire = data.get("wire")
        if not isinstance(wire, Mapping) or not isinstance(wire.get("material"), str):
            return data
        name = wire["material"]
        if name not in self._known:
            self._known[name] = materials.with_content(data, self._folder)["wire"]["material"]
        return data | {"wire": {**wire, "material": self._known[name]}}


def _csv(text: str, source: str) -> Iterator[dict[str, Json]]:
    reader = text_rows(text, separator(text.partition("\n")[0]), source)
    head = [spelled_key(h) for h in next(reader, Row(0, [])).cells]
    _require_keys(head, source)
    for line, cells in reader:
        if not any(cells) or cells[0].startswith("#"):
            continue
        if len(cells) > len(head):
            raise _bad(
                source,
                f"line {line} has {len(cells)} cells, the head only "
                f"{len(head)}; remove the extra ones",
            )
        data: dict[str, Json] = {}
        for key, cell in zip(head, cells, strict=False):
            if cell:
                _put(data, key, _cell(key, cell), source)
        yield data


def _require_keys(head: list[str], source: str) -> None:
    if len(head) > WIDEST:
        raise _bad(source, f"has {len(head)} columns; {WIDEST} are the most")
    if not any("." in h for h in head):
        raise _bad(source, "the first line must name keys such as wire.diameter, body.coils")
    if twice := next((h for h in head if head.count(h) > 1), None):
        raise _bad(source, f"column '{twice[:60]}' is given twice; keep one of them")
    _require_order(head, source)


def _require_order(keys: list[str], source: str) -> None:
    """Refuse a key that would take the place of an earlier one below it, or lies too deep."""
    for number, key in enumerate(keys):
        if key.count(".") >= DEEPEST:
            raise _bad(source, f"'{key[:60]}' lies deeper than {DEEPEST} levels; no key does")
        below = next((k for k in keys[:number] if k.startswith(f"{key}.")), None)
        if below is not None:
            raise _bad(
                source, f"'{key[:60]}' would take the place of '{below[:60]}'; put it before that"
            )


def _cell(key: str, cell: str) -> Any:
    if key in ("service.loads", "service.lengths"):
        return [part.strip() for part in cell.split(";") if part.strip()]
    return cell


def _parquet(place: Path) -> Iterator[dict[str, Json]]:
    """Yield the rows of a Parquet table; a missing value leaves the key out."""
    pyarrow = need("pyarrow", "a Parquet table", "parquet")
    parquet = need("pyarrow.parquet", "a Parquet table", "parquet")
    try:
        with opened(place) as stream:
            file = parquet.ParquetFile(stream)
            if file.metadata.num_rows > LARGEST:
                raise _bad(place.name, f"holds more than {LARGEST} members; split it")
            _require_keys([spelled_key(n) for n in file.schema_arrow.names], place.name)
            rows = [row for batch in file.iter_batches() for row in batch.to_pylist()]
    except SpringgeoError:
        raise
    # the library's own errors, and those of values that Python has no type for
    except (pyarrow.ArrowException, OSError, ValueError, OverflowError) as exc:
        why = getattr(exc, "strerror", None) or str(exc).partition("\n")[0][:200]
        raise FileError(f"cannot read '{place}': {why}") from None
    for row in rows:
        data: dict[str, Json] = {}
        for key, value in row.items():
            cell = _cell(key, value) if isinstance(value, str) else value
            if cell is not None and cell not in ("", []) and not _nan(cell):
                _put(data, spelled_key(key), cell, place.name)
        if data:
            yield data


def _nan(cell: object) -> bool:
    return isinstance(cell, float) and math.isnan(cell)


def _grid(data: Mapping[str, object], source: str) -> Iterator[dict[str, Json]]:
    base, vary = data.get("base"), data.get("vary")
    if (
        not isinstance(base, Mapping)
        or not isinstance(vary, Mapping)
        or set(data) - {"base", "vary"}
    ):
        raise _bad(source, "needs exactly 'base', a specification, and 'vary', lists by dotted key")
    for key, values in vary.items():
        if not isinstance(values, list) or not values:
            raise _bad(source, f"vary.{key} needs a list of values")
    if math.prod(map(len, vary.values())) > LARGEST:
        raise _bad(source, f"holds more than {LARGEST} members; split it")
    keys = [spelled_key(str(k)) for k in vary]
    base = spelled(base)
    _require_order(keys, source)
    for places in itertools.product(*(enumerate(values, 1) for values in vary.values())):
        member = _copy(base)
        for key, (_, value) in zip(keys, places, strict=True):
            # a mapping goes into many members, and later keys may go below it
            _put(member, key, _copy(value), source)
        words = [
            f"{key.rpartition('.')[2]} {n if isinstance(value, Mapping | list) else value}"
            for key, (n, value) in zip(keys, places, strict=True)
            if key != "name"
        ]
        member["name"] = ", ".join([str(member.get("name", "member")), *words])
        yield member


def _copy(value: object) -> Any:
    if isinstance(value, Mapping):
        return {str(k): _copy(v) for k, v in value.items()}
    return [_copy(v) for v in value] if isinstance(value, list) else value


def _put(data: dict[str, Any], key: str, value: Any, source: str) -> None:
    if key.count(".") >= DEEPEST:
        raise _bad(source, f"'{key[:60]}' has more than {DEEPEST} words; shorten it")
    *path, last = key.split(".")
    for part in path:
        data = data.setdefault(part, {})
        if not isinstance(data, dict):
            raise _bad(source, f"'{key[:60]}' goes below a value; leave one of the two out")
    data[last] = value


def _bad(source: str, words: str) -> SpecError:
    return SpecError(error("bad-family", shown(source), shown(words)))

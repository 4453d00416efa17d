"""Random family tables, sensible and spoilt: ``python -m tests.stability.families``."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np

from springgeo.ends import registry
from springgeo.errors import SpecError
from springgeo.family import read_family
from springgeo.family.build import build_member
from springgeo.specification.load import spec_of

from .trials import main, require_finite
from .wild import Random, as_yaml, garbled, pick, spoilt

BUILT = 3


def values(rng: Random) -> dict[str, list[Any]]:
    """Return values by dotted key, two of each."""
    d = rng.uniform(0.3, 4)
    loops = [{"style": str(pick(rng, registry.names()))} for _ in range(2)]
    known: dict[str, list[Any]] = {
        "wire.diameter": [float(d), f"{d * 1.1:.4g} mm"],
        "body.index": [float(rng.uniform(4, 12)), 9],
        "body.coils": [int(rng.integers(3, 30)), 12.5],
        "body.hand": ["left", "right"],
        "ends.first": loops,
        "ends.second.style": [x["style"] for x in loops],
        "service.loads": [[float(rng.uniform(0, 30))], ["5 N", "9 N"]],
        "name": ["one", "two"],
    }
    keys = rng.choice(list(known), int(rng.integers(1, 5)), replace=False)
    return {str(k): known[str(k)] for k in keys}


def base(rng: Random) -> dict[str, Any]:
    """Return a specification that can be made, most of the time."""
    return {
        "name": "family",
        "wire": {"diameter": float(rng.uniform(0.5, 3))},
        "body": {"index": float(rng.uniform(5, 11)), "coils": float(rng.uniform(3, 30))},
        "ends": {s: {"style": str(pick(rng, registry.names()))} for s in ("first", "second")},
    }


def as_csv(rng: Random, data: dict[str, Any]) -> str:
    """Return rows with dotted keys for a grid's base and two of its members."""
    flat: dict[str, Any] = {}
    for top in ("wire", "body", "ends"):
        inner = data.get("base", {}).get(top) if isinstance(data.get("base"), dict) else None
        for key, value in inner.items() if isinstance(inner, dict) else ():
            for last, cell in value.items() if isinstance(value, dict) else [("", value)]:
                flat[f"{top}.{key}.{last}".rstrip(".")] = cell
    apart = str(pick(rng, (",", ";", "\t")))
    rows = [["name", *flat]]
    rows += [[f"member {number}", *map(str, flat.values())] for number in range(2)]
    return garbled(rng, "\n".join(apart.join(map(str, row)) for row in rows))


def trial(seed: int, folder: Path) -> bool:
    """Read a table and build its first members: each record and stored specification is its own."""
    rng = np.random.default_rng([3, seed])
    data: dict[str, Any] = {"base": base(rng), "vary": values(rng)}
    if seed % 2:
        data = spoilt(rng, data)
    table = folder / ("table.csv" if seed % 3 == 0 else "table.yaml")
    text = as_csv(rng, data) if seed % 3 == 0 else as_yaml(rng, data)
    table.write_text(text, encoding="utf-8", errors="replace")
    members = read_family(table, whole=False)
    assert len({m.stem for m in members}) == len(members), "two members would share a folder"
    built = 0
    for member in members[:BUILT]:
        record = build_member(member, folder / "out")
        if record.status != "built":
            assert record.errors, "failed without a reason"
            assert not any("Error:" in e for e in record.errors), record.errors
            continue
        built += 1
        stored = json.loads((folder / "out" / member.stem / f"{member.stem}.json").read_text())
        require_finite(stored)
        try:
            spec = spec_of(member.data).model_dump(mode="json", exclude_none=True)
        except SpecError as exc:
            raise AssertionError(f"built, but refused by itself: {exc}") from None
        assert stored["specification"] == spec, "the stored specification is not its row"
    return built > 0


if __name__ == "__main__":
    main("families", trial)

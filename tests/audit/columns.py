"""A family's facts and the columns of a sweep beside what ``check --json`` tells of each spring."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import yaml

from springgeo import Spring, sweep
from springgeo.family import read_family
from springgeo.family.build import build_member
from springgeo.sweeping.sweep import PLACES
from tests.stability.wild import Random

from .compared import Compared
from .drawn import drawn

_DIGITS = 1e-9


def examine(rng: Random, told: Compared, folder: Path) -> None:
    """Vary one spring's values; every row of both tables is a spring of its own."""
    data = drawn(rng)
    vary = _varied(rng, data)
    _family(told, data, vary, folder)
    spring = Spring.from_dict(data)
    for method in ("handbook", "along-the-wire"):
        table = sweep(spring, vary, method=method)  # type: ignore[arg-type]
        for number in range(table.rows):
            row = table.row(number)
            if row["problem"]:
                continue
            member = spring.with_({k: _plain(row[k]) for k in vary})
            _row(told, row, json.loads(member.summary().json_text(None)), method)


def _plain(value: Any) -> Any:
    return value.item() if isinstance(value, np.generic) else value


def _varied(rng: Random, data: dict[str, Any]) -> dict[str, list[Any]]:
    """Return two or so values by key."""
    n = float(data["body"]["coils"])
    every: list[tuple[str, list[Any]]] = [
        ("body.coils", [n, round(n) + 1.25]),
        ("body.hand", ["left", "right"]),
        ("wire.shear_modulus", ["78 GPa", "11.4e6 psi"]),
        ("wire.tensile_strength", [1500.0, "200 ksi"]),
        ("body.index", [6.5, 9]),
        ("wire.diameter", ["0.05 in", 1.3]),
        ("service.loads", [["2 lbf", "1 N"], [3.0]]),
        ("ends.first.style", ["machine-half-loop", "extended-hook"]),
        ("ends.second", [{"style": "english-loop"}, {"style": "full-loop-at-side"}]),
        ("service.temperature", [20.0, "150 degF"]),
    ]
    keys = rng.permutation(len(every))[:2]
    return {every[int(k)][0]: every[int(k)][1] for k in keys}


def _family(told: Compared, data: dict[str, Any], vary: dict[str, list[Any]], folder: Path) -> None:
    path = folder / f"family{told.seed}.yaml"
    path.write_text(yaml.safe_dump({"base": data, "vary": vary}), encoding="utf-8")
    for member in read_family(path, whole=False):
        record = build_member(member, folder / f"out{told.seed}")
        if record.status != "built":
            continue
        place = folder / f"out{told.seed}" / member.stem
        stored = json.loads((place / f"{member.stem}.json").read_text(encoding="ascii"))
        own = json.loads(Spring.from_dict(stored["specification"]).summary().json_text(None))
        for section in ("geometry", "points", "along_the_wire", "pull", "initial_tension"):
            told.number(
                f"family: {section}", 0.0, furthest(stored[section], own[section]), 1e-6, of=1.0
            )
        for name, value in (
            ("wire_diameter", own["geometry"]["wire_diameter"]),
            ("outer_diameter", own["geometry"]["outer_diameter"]),
            ("free_length", own["geometry"]["free_length"]),
            ("rate", own["along_the_wire"]["rate"]),
            ("initial_tension", own["initial_tension"]["force"]),
            ("mass", own["geometry"]["mass"]),
        ):
            told.number(f"family: {name}", record.facts[name], value, 1e-6)


def furthest(a: Any, b: Any) -> float:
    """Return the greatest relative difference of two nests of numbers; infinite if unlike."""
    if isinstance(a, dict) and isinstance(b, dict) and a.keys() == b.keys():
        return max((furthest(a[k], b[k]) for k in a), default=0.0)
    if isinstance(a, list) and isinstance(b, list) and len(a) == len(b):
        return max((furthest(x, y) for x, y in zip(a, b, strict=True)), default=0.0)
    if isinstance(a, float) and isinstance(b, float):
        return abs(a - b) / max(abs(a), abs(b), 1e-9)
    return 0.0 if a == b else math.inf


def _row(told: Compared, row: dict[str, Any], s: dict[str, Any], method: str) -> None:
    g, wire = s["geometry"], s["along_the_wire"]
    by_book = method == "handbook"
    own = {
        "index": g["index"],
        "wire_diameter": g["wire_diameter"],
        "mean_diameter": g["mean_diameter"],
        "body_coils": g["body_coils"],
        "free_length": g["free_length"],
        "wire_length": g["wire_length"],
        "mass": g["mass"],
        "rate": s["rate"] if by_book else wire["rate"],
        "initial_tension": s["initial_tension"]["force"],
        "initial_stress": s["initial_tension"]["stress"],
    }
    p = (s["points"] if by_book else wire["points"])[-1]
    line = s["load_line"]["handbook" if by_book else "along_the_wire"][-1]
    own |= {"load": p["load"], "length": line["length"]}
    own |= {k: p[k] for k in PLACES}
    margins = {f"margin_{v}": p["margin"][k] for k, v in PLACES.items()}
    own |= margins | {"margin": min(m for m in margins.values() if m is not None)}
    for name, value in own.items():
        found = row[name]
        told.number(f"sweep, {method}: {name}", None if math.isnan(found) else found, value, 1e-6)

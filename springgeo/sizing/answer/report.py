"""A result as tables, as a mapping for programs, and as specification files."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

import yaml

from springgeo.sizing.answer.winner import Winner
from springgeo.sizing.size import Result
from springgeo.spring.by_units import shown_in
from springgeo.text import quantity as q
from springgeo.text.shown import PLAIN, Shown

SCHEMA = "springgeo-sizing/1"


def _head(shown: Shown) -> list[str]:
    length, force = shown.unit("length"), shown.unit("force")
    return [
        "",
        f"wire {length}",
        "index",
        f"OD {length}",
        "coils",
        f"L0 {length}",
        f"Fi {force}",
        f"rate {shown.unit('rate')}",
        "body",
        "bending",
        "torsion",
        "fatigue",
        f"mass {shown.unit('mass')}",
        "in tol",
        "score",
    ]


def rows(winners: Sequence[Winner], shown: Shown = PLAIN) -> list[list[str]]:
    """Return the table of the choices, its head first; margins are the lesser of both ways."""
    return [_head(shown), *(_row(n, w, shown) for n, w in enumerate(winners, 1))]


def _row(number: int, w: Winner, shown: Shown) -> list[str]:
    g, s, m = w.summary.geometry, w.summary, w.margins
    ends = "/".join(dict.fromkeys(e.style for e in w.candidate.ends))
    margins = [
        f"{m[k]:.2f}" if k in m else "-"
        for k in ("body", "hook_bending", "hook_torsion", "fatigue")
    ]
    return [
        f"{number} {w.candidate.material} {ends}",
        shown.value(q.length(g.wire_diameter, 4)),
        f"{g.index:.3f}",
        shown.value(q.length(g.outer_diameter, 4)),
        f"{g.body_coils:.2f}",
        shown.value(q.length(g.free_length, places=2)),
        shown.value(q.force(s.initial_tension.force, places=3)),
        shown.value(q.rate(w.rate)),
        *margins,
        shown.value(q.Quantity("mass", g.mass, places=3)),
        f"{100 * w.chance:.0f} %",
        f"{w.score:.3f}",
    ]


def specification_text(w: Winner, job: str, shown: Shown = PLAIN) -> str:
    """Return a choice as a specification file: numbers in mm, answers in the reader's units.

    It builds what was checked, whatever those units would have decided.
    """
    c = w.candidate
    asked = ", ".join(
        f"{shown.value(q.force(s.wanted, 5))} ± {shown.force(s.allowed, 3)} at "
        f"{shown.length(s.length, 5)}"
        for s in w.spreads
    )
    given = " and ".join(
        f"{shown.force(load, 5)} at {shown.length(at, 5)}"
        for load, at in zip(w.loads, (c.line.L_1, c.line.L_2), strict=True)
    )
    head = (
        f"# Sized for '{' '.join(job.split())}': {asked} inside hooks.\n"
        f"# By the re-check it gives {given}; index {c.index:.4g}, score {w.score:.3f}.\n"
    )
    if shown.units != "mm":
        head += "# Bare numbers are mm and N, whatever the units shown.\n"
    data = shown_in(w.specification, shown.units)
    text = yaml.safe_dump(data, sort_keys=False, allow_unicode=True)
    return head + text


def mapping(result: Result) -> dict[str, Any]:
    """Return the result for programs: choices, front, what was turned away, why not."""
    found = result.found
    return {
        "schema_version": SCHEMA,
        "units": "mm, N, MPa, N/mm, kg, Hz, degC",
        "job": found.job.model_dump(mode="json", exclude_none=True),
        "candidates": found.looked_at,
        "front": [
            {
                "material": found.wires.material[p.wire],
                "diameter": float(found.wires.d[p.wire, 0]),
                "index": p.C,
                "ends": [e.written() for e in found.job.end_pairs[p.ends]],
                "costs": dict(zip(found.job.objectives, costs, strict=True)),
            }
            for p, costs in zip(found.places, found.costs.tolist(), strict=True)
        ],
        "choices": [_choice(w) for w in result.winners],
        "turned_away": list(result.turned_away),
        "why_not": [r._asdict() for r in result.why_not],
    }


def json_text(result: Result) -> str:
    """Return the result as JSON; each design of the front on one line."""
    whole = mapping(result)
    front = ",\n".join("  " + json.dumps(row) for row in whole["front"])
    text = json.dumps(whole | {"front": []}, indent=1)
    return text.replace('\n "front": []', f'\n "front": [\n{front}\n ]', 1) + "\n"


def _choice(w: Winner) -> dict[str, Any]:
    c, verdict = w.candidate, w.summary.verdict
    return {
        "specification": w.specification,
        "score": w.score,
        "loads": list(w.loads),
        "margins": w.margins,
        "verdict": None if verdict is None else verdict.model_dump(),
        "mass": w.summary.geometry.mass,
        "load_spread": [asdict(s) for s in w.spreads],
        "natural_frequency": w.summary.dynamics.natural_frequency_both_held,
        # None: nothing to judge, such as the bend radius of an end without hook
        "slack": {k: v if math.isfinite(v) else None for k, v in c.slack.items()},
        "costs": c.cost,
        "findings": [f.model_dump() for f in w.summary.findings],
    }

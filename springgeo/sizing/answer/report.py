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

SCHEMA = "springgeo-sizing/1"
HEAD = [
    "",
    "wire mm",
    "index",
    "OD mm",
    "coils",
    "L0 mm",
    "Fi N",
    "rate N/mm",
    "body",
    "bending",
    "torsion",
    "fatigue",
    "mass g",
    "in tol",
    "score",
]


def rows(winners: Sequence[Winner]) -> list[list[str]]:
    """Return the table of the choices, its head first; margins are the lesser of both ways."""
    return [HEAD, *(_row(n, w) for n, w in enumerate(winners, 1))]


def _row(number: int, w: Winner) -> list[str]:
    g, s, m = w.summary.geometry, w.summary, w.margins
    ends = "/".join(dict.fromkeys(e.style for e in w.candidate.ends))
    margins = [f"{m[k]:.2f}" if k in m else "-" for k in ("body", "a", "b", "fatigue")]
    return [
        f"{number} {w.candidate.material} {ends}",
        f"{g.wire_diameter:.4g}",
        f"{g.index:.3f}",
        f"{g.outer_diameter:.4g}",
        f"{g.body_coils:.2f}",
        f"{g.free_length:.2f}",
        f"{s.initial_tension.force:.3f}",
        f"{w.candidate.line.k:.4g}",
        *margins,
        f"{1e3 * g.mass:.3f}",
        f"{100 * w.chance:.0f} %",
        f"{w.score:.3f}",
    ]


def specification_text(w: Winner, job: str) -> str:
    """Return a choice as a specification file."""
    c = w.candidate
    asked = ", ".join(f"{s.wanted:.5g} ± {s.allowed:.3g} N at {s.length:.5g} mm" for s in w.spreads)
    head = (
        f"# Sized for '{' '.join(job.split())}': {asked} inside hooks.\n"
        f"# By the re-check it gives {w.loads[0]:.5g} N at {c.line.L_1:.5g} mm and "
        f"{w.loads[1]:.5g} N at {c.line.L_2:.5g} mm; index {c.index:.4g}, score {w.score:.3f}.\n"
    )
    text = yaml.safe_dump(w.specification, sort_keys=False, allow_unicode=True)
    return head + text


def mapping(result: Result) -> dict[str, Any]:
    """Return the result for programs: choices, front, what was turned away, why not."""
    found = result.found
    return {
        "schema_version": SCHEMA,
        "job": found.job.model_dump(mode="json", exclude_none=True),
        "candidates": found.looked_at,
        "front": [
            {
                "material": found.wires.material[p.wire],
                "diameter": float(found.wires.d[p.wire, 0]),
                "index": p.C,
                "ends": [e.written() for e in found.job.choice.end_pairs[p.ends]],
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
    c = w.candidate
    return {
        "specification": w.specification,
        "score": w.score,
        "loads": list(w.loads),
        "margins": w.margins,
        "mass": w.summary.geometry.mass,
        "load_spread": [asdict(s) for s in w.spreads],
        "natural_frequency": c.natural_frequency,
        # None: nothing to judge, such as the bend radius of an end without hook
        "slack": {k: v if math.isfinite(v) else None for k, v in c.slack.items()},
        "costs": c.cost,
        "findings": [f.model_dump() for f in w.summary.findings],
    }

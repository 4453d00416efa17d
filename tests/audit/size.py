"""What ``size`` writes of its choices, beside the springs that their own specifications describe.

A job that a spring is known to do is written, sized by the command, and every file read: of each
choice the specification alone makes a spring, and its summary is held against the table, the head
of its file, ``sizing.json`` and the page. Where a choice stands on the front is the search's own.
"""

from __future__ import annotations

import html
import json
import re
from pathlib import Path
from typing import Any

import yaml

from springgeo import Spring
from springgeo.cli.main import run
from springgeo.sizing.answer.tolerance import spreads
from springgeo.sizing.job.job import Job, read_job
from tests.stability.asked.job import as_asked, job
from tests.stability.asked.spring import known, margins_of
from tests.stability.wild import Random

from .compared import Compared
from .note import figures

TOP = 2
# the table's columns, but for margins, share and score
_COLUMNS = ("wire", "index", "OD", "coils", "L0", "Fi", "rate")
_MARGINS = ("body", "hook_bending", "hook_torsion", "fatigue")


def examine(rng: Random, told: Compared, folder: Path) -> None:
    """Size one job, and read what is written of its choices."""
    found = known(rng)
    if found is None:
        return
    asked, out = folder / "job.yaml", folder / "sizes"
    asked.write_text(yaml.safe_dump(as_asked(job(rng, found))), encoding="utf-8")
    if run(["size", str(asked), "-o", str(out), "--top", str(TOP), "--page"]) != 0:
        return
    data = json.loads((out / "sizing.json").read_text(encoding="utf-8"))
    page = (out / "choices.html").read_text(encoding="utf-8")
    read = read_job(asked)
    rows = _table(page)
    told.same("size: rows of the table", len(rows), len(data["choices"]))
    told.same("size: files", len(list(out.glob("choice-*.yaml"))), len(data["choices"]))
    for n, (choice, row) in enumerate(zip(data["choices"], rows, strict=False), 1):
        path = out / f"choice-{n}.yaml"
        own = Spring.from_file(path)
        _choice(told, choice, own, read)
        _head(told, path.read_text(encoding="utf-8"), own, read)
        _row(told, row, own, read, choice)


def _lengths(read: Job, choice: dict[str, Any]) -> list[float]:
    return [s["length"] for s in choice["load_spread"]]


def _loads(own: Spring, lengths: list[float], read: Job) -> list[float]:
    """Return the loads of a spring at lengths, N, by the method of the job."""
    if read.method == "handbook":
        return [own.along_the_wire.book.straight_load(x) for x in lengths]
    return [own.load_curve.load(x) for x in lengths]


def _choice(told: Compared, choice: dict[str, Any], own: Spring, read: Job) -> None:
    """Hold the choice as programs read it against its own specification's summary."""
    s = own.summary()
    lengths = _lengths(read, choice)
    ends = [min(lengths), max(lengths)]
    loads = _loads(own, ends, read)
    told.array("size: loads, N", choice["loads"], loads, 1e-6, of=s.points[-1].load)
    told.number("size: mass", choice["mass"], s.geometry.mass, 1e-9)
    told.number(
        "size: natural frequency", choice["natural_frequency"],
        s.dynamics.natural_frequency_both_held, 1e-6,
    )  # fmt: skip
    margins = margins_of(s, read.method)
    told.same("size: margins that are told", sorted(choice["margins"]), sorted(margins))
    for name, value in margins.items():
        told.number("size: a margin", choice["margins"].get(name), value, 1e-6)
    verdict = None if s.verdict is None else json.loads(s.verdict.model_dump_json())
    told.same("size: outcome", choice["verdict"] and choice["verdict"]["outcome"],
              verdict and verdict["outcome"])  # fmt: skip
    if verdict is not None:
        told.number("size: verdict's margin", choice["verdict"]["margin"], verdict["margin"], 1e-6)
    wanted = [(x["length"], x["wanted"], x["allowed"]) for x in choice["load_spread"]]
    again = spreads(
        own.along_the_wire.book, wanted, read.method, whole="in_tolerance" in read.objectives
    )
    for x, y in zip(choice["load_spread"], again, strict=True):
        for key in ("mean", "deviation", "low", "high", "chance"):
            told.number(f"size: spread, {key}", x[key], getattr(y, key), 1e-5)


def _head(told: Compared, text: str, own: Spring, read: Job) -> None:
    """Read the head of a specification: loads asked for and given, index."""
    head = "\n".join(x for x in text.splitlines() if x.startswith("#"))
    told_ = re.search(r"re-check it gives (.+?) at (.+?) and (.+?) at (.+?); index ([\d.]+)", head)
    assert told_, head
    lengths = [figures(told_[n], "en")[0].value for n in (2, 4)]
    loads = [figures(told_[n], "en")[0] for n in (1, 3)]
    for load, value in zip(loads, _loads(own, lengths, read), strict=True):
        # the length is rounded to five figures, by which the load is off
        near = max(load.half, 5e-5 * value, own.summary().rate * 5e-5 * max(lengths))
        told.number(
            "size: load in the head, in its digits", abs(load.value - value), 0.0, 1.05, of=near
        )
    told.number("size: index in the head", float(told_[5]), own.summary().geometry.index, 6e-4)


def _table(page: str) -> list[dict[str, str]]:
    """Return the table of the page, by the names of its columns."""
    found = re.search(r"<table.*?</table>", page, re.DOTALL)
    assert found, page[:200]
    rows = [
        [html.unescape(re.sub(r"<[^>]*>", "", cell)).strip() for cell in cells]
        for cells in (
            re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row, re.DOTALL)
            for row in re.findall(r"<tr.*?</tr>", found[0], re.DOTALL)
        )
    ]
    return [dict(zip(rows[0], row, strict=True)) for row in rows[1:]]


def _row(
    told: Compared, row: dict[str, str], own: Spring, read: Job, choice: dict[str, Any]
) -> None:
    """Read the table's figures."""
    s, g = own.summary(), own.summary().geometry
    lengths = _lengths(read, choice)
    first, last = min(lengths), max(lengths)
    low, high = _loads(own, [first, last], read)
    facts: dict[str, float] = dict(
        zip(
            _COLUMNS,
            (
                g.wire_diameter, g.index, g.outer_diameter, g.body_coils, g.free_length,
                s.initial_tension.force, (high - low) / (last - first),
            ),
            strict=True,
        )
    )  # fmt: skip
    facts["mass"] = g.mass
    for head, text in row.items():
        name, _, unit = head.partition(" ")
        if name in facts:
            (figure,) = figures(text, "en", unit or None)
            near = max(figure.half, 5e-4 * abs(facts[name]))
            told.number(
                f"size: {name} in the table, in its digits", abs(figure.value - facts[name]), 0.0,
                1.05, of=near,
            )  # fmt: skip
    margins = margins_of(s, read.method)
    for head, key in zip(("body", "bending", "torsion", "fatigue"), _MARGINS, strict=True):
        told.same(f"size: {head} in the table", row[head],
                  f"{margins[key]:.2f}" if key in margins else "-")  # fmt: skip

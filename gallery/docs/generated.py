"""Reference and verification manual, made from the package itself."""

from __future__ import annotations

import importlib
import inspect
import json
import math
import pkgutil
from collections.abc import Iterable
from itertools import groupby
from pathlib import Path
from typing import Any

import click
import docstrings
import numpy as np
import specification_page as fields_page
from figures import styles

import springgeo as sg
import springgeo.mechanics as mechanics
from springgeo import materials
from springgeo.cli.main import _COMMANDS, _group
from springgeo.computed import ComputedSpring
from springgeo.ends import registry
from springgeo.ends.protocol import BodyEnd
from springgeo.explanation.quantities import UNITS, quantities
from springgeo.plots.end_drawing import drawn_on
from springgeo.trade.bibliography import bibliography
from springgeo.worked.docs import docs
from springgeo.worked.reading import expressions
from springgeo.worked.written import Latex

HERE = Path(__file__).parent


def pages() -> dict[str, str]:
    """Return every generated page by its name."""
    return {
        "verification.md": verification(),
        "reference/commands.md": commands(),
        "reference/specification.md": specification(),
        "reference/summary.md": summary(),
        "reference/python.md": python(),
        "reference/formulas.md": formulas(),
        "reference/ends.md": ends(),
        "reference/materials.md": material_list(),
        "reference/bibliography.md": works(),
    }


def table(head: Iterable[str], rows: Iterable[Iterable[str]]) -> str:
    """Return a table in Markdown."""
    heads = list(head)
    lines = ["| " + " | ".join(heads) + " |", "|" + "---|" * len(heads)]
    lines += ["| " + " | ".join(_cell(c) for c in row) + " |" for row in rows]
    return "\n".join(lines) + "\n"


def _cell(text: str) -> str:
    return " ".join(str(text).split()).replace("|", "\\|").replace("<", "&lt;")


def verification() -> str:
    """Return expected, found and difference of every outside check, one table a test."""
    data = json.loads((HERE / "verification.json").read_text(encoding="utf-8"))["comparisons"]
    held = sum(row["holds"] for row in data)
    parts = [
        "# Verification manual",
        f"{len(data)} comparisons of the outside checks: worked examples of textbooks and "
        f"handbooks, finite elements, closed forms. {held} of {len(data)} hold. Each row is a "
        "comparison that a test makes; `python -m tests.verification -o "
        "gallery/docs/verification.json` runs these tests and writes the file that this page is "
        "made of.",
        "`tolerance` is what the test allows. Units are those of the test: mm, N, MPa inside, the "
        "printed ones for worked examples.",
    ]
    for file, rows in groupby(data, key=lambda r: r["test"].partition("::")[0]):
        parts.append(f"## {_title(file)}")
        for test, these in groupby(rows, key=lambda r: r["test"].partition("::")[2]):
            listed = list(these)
            parts.append(f"### {_words(test)}")
            parts.append(_cell(listed[0]["about"]))
            parts.append(
                table(
                    ("what", "expected", "found", "difference, %", "tolerance", "holds"),
                    (_compared(r) for r in listed),
                )
            )
    return "\n\n".join(parts) + "\n"


def _compared(r: dict[str, Any]) -> tuple[str, ...]:
    expected, found = r["expected"], r["found"]
    off = "–" if expected == 0 else f"{100 * (found / expected - 1):+.3f}"
    held = "yes" if r["holds"] else "NO"
    what = r.get("what") or "–"
    return what, f"{expected:.6g}", f"{found:.6g}", off, f"{r['tolerance']:.2g}", held


def _title(file: str) -> str:
    folder, _, name = file.removesuffix(".py").rpartition("/")
    return f"{folder.replace('/', ', ')}: {name.removeprefix('test_').replace('_', ' ')}"


def _words(test: str) -> str:
    name, _, case = test.removeprefix("test_").partition("[")
    return name.replace("_", " ") + (f", {case.rstrip(']')}" if case else "")


def commands() -> str:
    """Return the help of every command."""
    context = click.Context(_group, info_name="springgeo")
    parts = [
        "# Commands",
        "Exit codes: 0 fine, 1 failing under `--strict`, 2 bad input, 3 output lost.",
    ]
    for name in _COMMANDS:
        command = _group.get_command(context, name)
        assert command is not None
        with click.Context(command, info_name=name, parent=context) as inner:
            inner.max_content_width = 90
            parts += [f"## {name}", f"```text\n{command.get_help(inner)}\n```"]
    return "\n\n".join(parts) + "\n"


def specification() -> str:
    """Return every field of a specification: what it is, unit, limits, default, picture."""
    parts = [
        "# Specification",
        "A YAML file. Every quantity takes a unit (`0.047 in`, `5.6 lbf`); bare numbers are in the "
        "unit of the table. `springgeo schema` prints this as JSON Schema for editors. The limits "
        "are what the tool takes; what is unwise within them is a finding.",
    ]
    for path, part in fields_page.sections().items():
        parts.append(f"## {path or 'The file'}")
        if text := part.get("description"):
            parts.append(_cell(text))
        parts.append(fields_page.picture(path))
        head = ("key", "what", "unit, or choices", "limits", "left out", "in the picture")
        parts.append(table(head, fields_page.rows(path, part["properties"])))
    return "\n\n".join(x for x in parts if x) + "\n"


def summary() -> str:
    """Return every number of the summary: unit and meaning."""
    parts = [
        "# Summary",
        "What `--json` prints, STEP files carry, and `spring.summary()` returns. Units are mm, N, "
        "MPa throughout. `springgeo explain SPEC NAME` tells how a number was found.",
    ]
    for owner, fields in quantities().items():
        if fields:
            parts.append(f"## {owner}")
            parts.append(
                table(
                    ("field", "unit", "what", "how"),
                    (
                        (f"`{name}`", UNITS[x.kind], x.title, x.method or "by formula")
                        for name, x in fields.items()
                    ),
                )
            )
    return "\n\n".join(parts) + "\n"


def python() -> str:
    """Return the docstrings of the façade."""
    parts = [
        "# Python",
        "`import springgeo as sg`. Lengths mm, forces N, stresses MPa, angles rad.",
    ]
    parts += [f"## sg.{sg.Spring.__name__}", *docstrings.text(inspect.getdoc(sg.Spring) or "")]
    # how a spring is made, and written, before what it answers
    for name, member in {**vars(sg.Spring), **vars(ComputedSpring), **vars(sg.Spring)}.items():
        if not name.startswith("_") and inspect.getdoc(member):
            of = "sg.Spring." if isinstance(member, classmethod) else "spring."
            parts += [f"### {name}", docstrings.described(f"{of}{name}", member)]
    for name in sorted(n for n in sg.__all__ if inspect.isfunction(getattr(sg, n, None))):
        parts += [f"## sg.{name}", docstrings.described(f"sg.{name}", getattr(sg, name))]
    return "\n\n".join(parts) + "\n"


def formulas() -> str:
    """Return every formula of the handbook as the code has it."""
    parts = ["# Formulas", "Read from the code that computes; source and unit from its docstring."]
    for module in sorted(m.name for m in pkgutil.iter_modules(mechanics.__path__)):
        found = importlib.import_module(f"springgeo.mechanics.{module}")
        rows = []
        for name, function in vars(found).items():
            own = inspect.isfunction(function) and function.__module__ == found.__name__
            if not own or not hasattr(function, "__wrapped__") or expressions(function) is None:
                continue
            about, style = docs(function), Latex()
            for key, node in (expressions(function) or {}).items():
                left = style.symbol(f"{about.symbol}_{key}" if key else about.symbol)
                rows.append(
                    (
                        about.title + (f", {key}" if key else ""),
                        f"${left} = {style.write(node)}$",
                        about.unit or "–",
                        f"{about.source} ({about.known})",
                    )
                )
            del name
        if rows:
            parts.append(f"## {module.replace('_', ' ')}")
            parts.append(table(("what", "formula", "unit", "source"), rows))
    return "\n\n".join(parts) + "\n"


def ends() -> str:
    """Return every end style: its drawing and parameters."""
    parts = [
        "# End styles",
        "Drawn from their centrelines on a coil of index 7, wire 2 mm, with the style's own "
        "proportions. LH: hook length, m: opening, r1 and r2: radii of the wire's centreline, F: "
        "where the pull acts, A and B: where the stress along the wire is greatest in loop and "
        "bend. `springgeo ends STYLE --picture FILE.svg` draws one.",
    ]
    for name in styles():
        style = registry.get(name)
        parts += [f"## {name}", f"{_cell(style.title)}. {_cell(style.summary)}"]
        parts.append(f"![{style.title}](../figures/end-{name}.svg)")
        parts.append(_put_together(name))
        if style.parameters.model_fields:
            parts.append(_cell(inspect.getdoc(style.parameters) or ""))
            parts.append(_parameters(name))
    return "\n\n".join(parts) + "\n"


def _parameters(name: str) -> str:
    """Return the parameters of a style: unit or choices, and the range that is guaranteed."""
    style = registry.get(name)
    g = drawn_on(name).model.geometry
    held = style.ranges(BodyEnd(g.wire_diameter, g.coil_radius, g.pitch))
    properties = style.parameters.model_json_schema().get("properties", {})
    rows = []
    for key in style.parameters.model_fields:
        unit = fields_page.unit(properties.get(key, {}), {"$defs": {}})
        low, high = held.get(key, (math.nan, math.nan))
        span = "–" if math.isnan(low) else f"{low:.3g} to {high:.3g}"
        rows.append((f"`{key}`", unit, span))
    return table(("parameter", "unit, or choices", "guaranteed on this coil"), rows)


def _put_together(style: str) -> str:
    """Return the pieces of an end in order, from the coil outward."""
    path, rows = drawn_on(style).centreline, []
    for piece in reversed([p for p, _ in path if p.label.startswith("first.")]):
        s = np.linspace(0.0, piece.segment.length, 101)
        bent = np.linalg.norm(piece.segment.curvature(s), axis=1)
        turned = math.degrees(float(np.trapezoid(bent, s)))
        tight, wide = 1 / max(float(bent.max()), 1e-9), 1 / max(float(bent.min()), 1e-9)
        radius = "straight"
        if turned > 0.01:
            radius = f"{tight:.3g} mm" if wide < 1.001 * tight else f"{tight:.3g} to {wide:.3g} mm"
        rows.append(
            (
                piece.label.partition(".")[2],
                piece.role,
                f"{piece.segment.length:.3g} mm",
                radius,
                f"{turned:.0f}°" if turned > 0.5 else "–",
            )
        )
    return table(("piece", "role", "length", "radius of curvature", "turns by"), rows)


def material_list() -> str:
    """Return every material with its sources."""
    rows = []
    for name in sorted(materials.names()):
        m = materials.get(name)
        tensile = m.data.tensile
        span = "–" if tensile is None else f"{tensile.span[0]:.3g} to {tensile.span[1]:.3g} mm"
        source = "none at hand" if tensile is None else f"{tensile.source} ({tensile.known})"
        life = m.data.cyclic_allowables
        rows.append((f"`{name}`", m.title, span, source, "no" if life is None else "yes"))
    return (
        "# Materials\n\nTensile strength is the least of the standard. `springgeo materials` "
        "prints values at a diameter.\n\n"
        + table(("id", "title", "sizes", "tensile strength from", "repeated-load table"), rows)
    )


def works() -> str:
    """Return the bibliography."""
    published = [(w.key, w.reference) for w in bibliography() if w.published]
    kinds = [(w.key, w.reference) for w in bibliography() if not w.published]
    return (
        "# Bibliography\n\nEvery source that code and data name is one of these; a test holds "
        "that.\n\n"
        + table(("key", "reference"), published)
        + "\n## Without an author\n\n"
        + table(("key", "what"), kinds)
    )

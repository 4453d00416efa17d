"""A note as Markdown, formulas as LaTeX between dollar signs, pictures as data."""

from __future__ import annotations

import base64
from collections.abc import Iterator

from springgeo.note import model as m
from springgeo.worked.written import Latex

_SPECIAL = str.maketrans({c: f"\\{c}" for c in "\\`*_[]<>#|$"})


def markdown(note: m.Note) -> str:
    """Return the note as Markdown."""
    lines = [f"# {_safe(note.title)}", "", _safe(note.subtitle), ""]
    lines += [*_table(m.Table(("", ""), note.facts)), ""]
    for block, number in m.numbered(note):
        lines += [*_block(block, number), ""]
    return "\n".join([*lines, "---", "", _safe(note.foot), ""])


def _block(block: m.Block, number: int) -> Iterator[str]:
    if isinstance(block, m.Heading):
        yield f"## {number} {_safe(block.text)}"
    elif isinstance(block, m.Text):
        yield f"**{_safe(block.text)}**" if block.strong else _safe(block.text)
    elif isinstance(block, m.Bullets):
        yield from (f"- {_safe(x)}" for x in block.items)
    elif isinstance(block, m.Table):
        yield from _table(block)
    elif isinstance(block, m.Formulas):
        for line in block.lines:
            yield from (_formula(line), "")
    elif isinstance(block, m.Picture):
        data = base64.b64encode(block.svg.encode()).decode()
        yield f"![{_safe(block.caption)}](data:image/svg+xml;base64,{data})"
    elif isinstance(block, m.Verbatim):
        fence = "```"
        while fence in block.text:
            fence += "`"
        yield from (f"{fence}yaml", block.text.rstrip("\n"), fence)


def _table(t: m.Table) -> Iterator[str]:
    count = len(t.rows[0]) if t.rows else len(t.head)
    head = t.head or ("",) * count
    if t.caption:
        yield from (_safe(t.caption), "")
    yield "| " + " | ".join(map(_safe, head)) + " |"
    marks = ("---" if i == 0 or i in t.words else "---:" for i in range(count))
    yield "| " + " | ".join(marks) + " |"
    for row in t.rows:
        yield "| " + " | ".join(map(_safe, row)) + " |"


def _formula(line: m.FormulaLine) -> str:
    names = {n: _quoted(v) for n, v in line.names.items()}
    plain = Latex(point=line.point).write(line.node)
    filled = Latex(r" \cdot ", line.point).write(line.node, names)
    middle = f" = {filled}" if filled != plain else ""
    equation = f"{Latex().symbol(line.symbol)} = {plain}{middle} = {_quoted(line.result)}"
    return f"{_safe(line.told)}: ${equation}$"


def _quoted(text: str) -> str:
    return r"\text{" + text.replace("%", r"\%") + "}"


def _safe(text: str) -> str:
    return " ".join(text.split()).translate(_SPECIAL)

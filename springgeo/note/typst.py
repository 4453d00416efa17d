"""A note as Typst, and typeset by it: embedded fonts alone, no date, no network."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from springgeo.note import model as m
from springgeo.optional import need
from springgeo.worked.expression import Node
from springgeo.worked.written import Typst, figure

# letters of a formula with its values that go on one line
_WIDEST = 52
# columns from which on a table is a wide one
_MANY = 6
_HEAD = """#set document(title: {title}, date: none)
#set page(paper: "{paper}", margin: (x: 22mm, top: 20mm, bottom: 22mm), footer: context [
  #set text(8pt, fill: luma(90))
  #grid(columns: (1fr, auto), {foot}, counter(page).display("1 / 1", both: true))
])
#set text(font: "Libertinus Serif", size: 10pt, lang: "{language}")
#set par(justify: true, leading: 0.6em)
#set heading(numbering: "1")
#show heading: it => block(above: 1.3em, below: 0.7em, sticky: true)[#text(11.5pt, it)]
#show math.equation: set text(9.5pt)
#show math.equation.where(block: true): set align(left)
#show figure.caption: set text(8.5pt)
#show raw: set text(8pt)
#show table: set text(8.5pt)
#set table(stroke: none, inset: (x: 4pt, y: 2.6pt))
"""


def pdf(note: m.Note) -> bytes:
    """Return the note as PDF; raises MissingLibraryError without the extra ``note``."""
    typst: Any = need("typst", "a calculation note as PDF", "note")
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        (place / "note.typ").write_text(source(note), encoding="utf-8")
        for block in note.blocks:
            if isinstance(block, m.Picture):
                (place / f"{block.name}.svg").write_text(block.svg, encoding="utf-8")
        made: bytes = typst.compile(
            str(place / "note.typ"), root=folder, ignore_system_fonts=True, timestamp=0
        )
    return made


def source(note: m.Note) -> str:
    """Return the note as Typst."""
    head = _HEAD.format(
        title=_string(note.title), foot=_text(note.foot), language=note.language, paper=note.paper
    )
    rows = ",\n".join(f"{_cell(a)}, {_cell(b)}" for a, b in note.facts)
    lines = [
        head,
        f"#text(17pt, weight: 700, {_string(note.title)}) \\",
        f"#text(12pt, {_string(note.subtitle)})",
        "#line(length: 100%, stroke: 0.6pt)",
        f"#text(8.5pt, table(columns: (auto, 1fr), inset: (x: 0pt, y: 2pt), column-gutter: 8pt,"
        f"\n{rows}))",
        "#line(length: 100%, stroke: 0.3pt)",
    ]
    for block in note.blocks:
        lines += list(_block(block))
    return "\n".join(lines) + "\n"


def _block(block: m.Block) -> Iterator[str]:
    if isinstance(block, m.Heading):
        yield f"#heading({_string(block.text)})"
    elif isinstance(block, m.Text):
        weight = ", weight: 700" if block.strong else ""
        yield f"#par(text(fill: black{weight}, {_string(block.text)}))"
    elif isinstance(block, m.Bullets):
        yield "#list(" + ", ".join(_text(x) for x in block.items) + ")"
    elif isinstance(block, m.Table):
        yield _table(block)
    elif isinstance(block, m.Formulas):
        if block.lines:
            yield _formulas(block.lines)
    elif isinstance(block, m.Picture):
        yield (
            f'#figure(image("{block.name}.svg", width: {100 * block.width:g}%), '
            f"caption: {_text(block.caption)}, numbering: none)"
        )
    elif isinstance(block, m.Verbatim):
        raw = f"raw({_string(block.text)})"
        yield f"#block(fill: luma(245), inset: 6pt, width: 100%, breakable: false, {raw})"


def _table(t: m.Table) -> str:
    columns = len(t.rows[0]) if t.rows else len(t.head)
    wide = min(t.words, default=0)
    sizes = ["1fr" if i == wide and t.words else "auto" for i in range(columns)]
    align = ["left" if i == 0 or i in t.words else "right" for i in range(columns)]
    over = t.head
    if columns >= _MANY:  # a unit below its quantity leaves the words their room
        over = tuple(
            c if i in t.words else "\n".join(c.rsplit(" ", 1)) for i, c in enumerate(t.head)
        )
    head = f"table.header({', '.join(map(_strong, over))})," if t.head else ""
    rule = "table.hline(stroke: 0.5pt)," if t.head else ""
    rows = ",\n".join(", ".join(_cell(c) for c in row) for row in t.rows)
    body = (
        f"table(columns: ({', '.join(sizes)},), align: ({', '.join(align)},), "
        f"{head}\n{rule}\n{rows})"
    )
    if not t.caption:
        return f"#block(width: 100%, {body})"
    return (
        f"#figure({body}, caption: figure.caption(position: top, {_text(t.caption)}), "
        "numbering: none, kind: table)"
    )


def _formulas(lines: tuple[m.FormulaLine, ...]) -> str:
    """Return formulas in two columns: what it is and its source; the equation."""
    rows = [f"[#text(8.5pt, {_string(line.told)})], [{_equation(line)}]" for line in lines]
    listed = ",\n".join(rows)
    return (
        "#grid(columns: (30%, 1fr), row-gutter: 8pt, column-gutter: 8pt, "
        f"align: (left + horizon, left + horizon),\n{listed})"
    )


def _equation(line: m.FormulaLine) -> str:
    style = Typst(point=line.point)
    symbol, plain = style.symbol(line.symbol), style.write(line.node)
    names = {n: _string(v) for n, v in line.names.items()}
    filled = Typst(" dot ", line.point).write(line.node, names)
    first = f"{symbol} = {plain}"
    end = f"= {_string(line.result)}"
    if plain == filled:
        return f"$ {first} {end} $"
    long = _width(line.node, {}) + _width(line.node, line.names) > _WIDEST
    cut = " \\ & = " if long else " = "
    mark = " & = " if long else " = "
    return f"$ {symbol}{mark}{plain}{cut}{filled}{cut if long else ' '}{end[2:] if long else end} $"


def _width(x: Node, names: Mapping[str, str]) -> int:
    """Return about how many letters wide an expression is."""
    if x.op == "num":
        return len(figure(x.value))
    if x.op == "name":
        return len(names.get(x.name, x.name.replace("_", "")[:4]))
    parts = [_width(p, names) for p in x.parts]
    if x.op == "/":
        return max(parts)
    return sum(parts) + (3 if x.op == "+" else 1) * len(parts)


def _strong(text: str) -> str:
    return f"text(weight: 700, {_string(text)})"


def _cell(text: str) -> str:
    return f"[#{_string(text)}]" if text else "[]"


def _text(text: str) -> str:
    return f"[#{_string(text)}]"


def _string(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
    return f'"{escaped}"'

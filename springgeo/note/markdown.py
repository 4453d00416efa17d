"""A note as Markdown, formulas as LaTeX between dollar signs, pictures as data."""

from __future__ import annotations

import base64
from collections.abc import Callable, Iterator

from springgeo.note import model as m
from springgeo.worked.written import Latex

# letters of a column after which it goes on to the next line
_WIDEST = 50
_SPECIAL = str.maketrans({c: f"\\{c}" for c in "\\`*_[]<>#|$"})


def as_data(picture: m.Picture) -> str:
    """Return a picture as an address that holds it."""
    return f"data:image/svg+xml;base64,{base64.b64encode(picture.svg.encode()).decode()}"


def markdown(note: m.Note, address: Callable[[m.Picture], str] = as_data) -> str:
    """Return the note as Markdown; ``address`` says where a picture is found."""
    lines = [f"# {_safe(note.title)}", "", _safe(note.subtitle), ""]
    lines += [*_table(m.Table(("", ""), note.facts, words=(1,))), ""]
    for block, number in m.numbered(note):
        lines += [*_block(block, number, address), ""]
    return "\n".join([*lines, "---", "", _safe(note.foot), ""])


def _block(block: m.Block, number: int, address: Callable[[m.Picture], str]) -> Iterator[str]:
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
        yield f"![{_safe(block.caption)}]({address(block)})"
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
    # dashes as long as the column: some readers take its width from them
    long = [min(_WIDEST, max(9, *(len(row[i]) for row in (head, *t.rows)))) for i in range(count)]
    marks = ("-" * n + ("" if i == 0 or i in t.words else ":") for i, n in enumerate(long))
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

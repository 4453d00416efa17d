"""A note as one HTML page, formulas as MathML: nothing is asked of the network."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from springgeo.colours import INKS
from springgeo.note.model import (
    Block,
    Bullets,
    FormulaLine,
    Formulas,
    Heading,
    Note,
    Picture,
    Table,
    Text,
    Verbatim,
)
from springgeo.worked.written import MathML

_STYLE = """
body{font:16px/1.45 Georgia,serif;max-width:52rem;margin:2rem auto;padding:0 1rem;color:@ink;
background:@card}
h1{margin:0}h2{margin:2rem 0 .6rem;font-size:1.2rem}table{border-collapse:collapse;font-size:.9rem}
.wide{overflow-x:auto}td,th{padding:.15rem .6rem .15rem 0;text-align:right;vertical-align:top}
td:first-child,th:first-child,.w{text-align:left}thead th{border-bottom:1px solid @soft}
figure{margin:1.2rem 0}figcaption,caption{font-size:.85rem;color:@soft;text-align:left}
svg{max-width:100%;height:auto}dl.f{display:grid;grid-template-columns:14rem 1fr;gap:.6rem 1rem}
dl.f dt{font-size:.85rem;align-self:center}dl.f dd{margin:0;overflow-x:auto}
@media (max-width:40rem){dl.f{grid-template-columns:1fr}}
pre{background:@body;padding:.6rem;overflow-x:auto;font-size:.8rem}
math{math-style:normal;font-family:'Latin Modern Math','STIX Two Math','Cambria Math',math,serif}
footer{margin:2rem 0;font-size:.8rem;color:@soft}
"""
_POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"


def _style() -> str:
    style = _STYLE
    for name in ("ink", "card", "soft", "body"):
        style = style.replace(f"@{name}", INKS[name].light)
    return style


def html(note: Note) -> str:
    """Return the note as one page."""
    body, number = [], 0
    for block in note.blocks:
        number += isinstance(block, Heading)
        body += list(_block(block, number))
    facts = "".join(
        f"<tr><td>{escape(a)}</td><td class='w'>{escape(b)}</td></tr>" for a, b in note.facts
    )
    return (
        f'<!doctype html>\n<html lang="{note.language}">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">\n'
        f"<title>{escape(note.title)}: {escape(note.subtitle)}</title>\n<style>{_style()}</style>\n"
        f"</head>\n<body>\n<h1>{escape(note.title)}</h1>\n<p>{escape(note.subtitle)}</p>\n"
        f"<table>{facts}</table>\n" + "\n".join(body) + f"\n<footer>{escape(note.foot)}</footer>\n"
        "</body>\n</html>\n"
    )


def _block(block: Block, number: int) -> Iterator[str]:
    if isinstance(block, Heading):
        yield f"<h2>{number} {escape(block.text)}</h2>"
    elif isinstance(block, Text):
        text = escape(block.text)
        yield f"<p><strong>{text}</strong></p>" if block.strong else f"<p>{text}</p>"
    elif isinstance(block, Bullets):
        yield "<ul>" + "".join(f"<li>{escape(x)}</li>" for x in block.items) + "</ul>"
    elif isinstance(block, Table):
        yield _table(block)
    elif isinstance(block, Formulas):
        if block.lines:
            yield '<dl class="f">' + "".join(map(_formula, block.lines)) + "</dl>"
    elif isinstance(block, Picture):
        caption = f"<figcaption>{escape(block.caption)}</figcaption>"
        yield f'<figure style="width:{100 * block.width:g}%">{block.svg}{caption}</figure>'
    elif isinstance(block, Verbatim):
        yield f"<pre>{escape(block.text)}</pre>"


def _table(t: Table) -> str:
    def row(cells: tuple[str, ...], tag: str) -> str:
        marked = (
            f"<{tag}{' class=w' if i in t.words else ''}>{escape(c)}</{tag}>"
            for i, c in enumerate(cells)
        )
        return f"<tr>{''.join(marked)}</tr>"

    caption = f"<caption>{escape(t.caption)}</caption>" if t.caption else ""
    head = f"<thead>{row(t.head, 'th')}</thead>" if t.head else ""
    body = "".join(row(r, "td") for r in t.rows)
    return f'<div class="wide"><table>{caption}{head}<tbody>{body}</tbody></table></div>'


def _formula(line: FormulaLine) -> str:
    style = MathML()
    names = {n: f"<mtext>{escape(v)}</mtext>" for n, v in line.names.items()}
    plain = style.write(line.node)
    filled = MathML("<mo>·</mo>").write(line.node, names)
    out = "" if line.inside in (None, True) else " (!)"
    words = escape(f"{line.words}{out} {line.sources}".strip())
    middle = f"<mo>=</mo>{filled}" if filled != plain else ""
    result = f"<mo>=</mo><mtext>{escape(line.result)}</mtext>"
    equation = f"{style.symbol(line.symbol)}<mo>=</mo>{plain}{middle}{result}"
    return f'<dt>{words}</dt><dd><math display="inline">{equation}</math></dd>'

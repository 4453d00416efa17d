"""A note as one HTML page, formulas as MathML: nothing is asked of the network."""

from __future__ import annotations

from springgeo.colours import INKS
from springgeo.note.model import FormulaLine, Note, numbered
from springgeo.report.html import Markup, render
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


def _style() -> str:
    style = _STYLE
    for name in ("ink", "card", "soft", "body"):
        style = style.replace(f"@{name}", INKS[name].light)
    return style


def html(note: Note) -> str:
    """Return the note as one page."""
    blocks = [(type(block).__name__, block, number) for block, number in numbered(note)]
    return render(
        "note", __package__, note=note, blocks=blocks, style=Markup(_style()), equation=_equation
    )


def _equation(line: FormulaLine) -> Markup:
    style, text = MathML(point=line.point), Markup("<mtext>{}</mtext>")
    names = {n: str(text.format(v)) for n, v in line.names.items()}
    plain = style.write(line.node)
    filled = MathML("<mo>·</mo>", line.point).write(line.node, names)
    middle = f"<mo>=</mo>{filled}" if filled != plain else ""
    result = f"<mo>=</mo>{text.format(line.result)}"
    return Markup(f"{style.symbol(line.symbol)}<mo>=</mo>{plain}{middle}{result}")

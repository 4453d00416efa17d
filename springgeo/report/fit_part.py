"""How the hooks fit what they are hooked to, at the named lengths of the stroke."""

from __future__ import annotations

from springgeo.fit import FitReport
from springgeo.report.html import Markup
from springgeo.report.tables import findings_list, table

_GAPS = {
    "hook 1": "first end, own hook",
    "body 1": "first end, body",
    "hook 2": "second end, own hook",
    "body 2": "second end, body",
}


def fit_part(report: FitReport) -> Markup:
    """Return verdict, clearances and findings of a fit as HTML."""
    head, *rows = report.table()
    used = [i for i in range(len(head)) if any(row[i] != "-" for row in rows)]
    cells = [
        [row[i].replace("-", "−") if _number(row[i]) else row[i] for i in used] for row in rows
    ]
    words = [_GAPS.get(head[i], head[i]) for i in used]
    units = [
        "" if x in ("state", "verdict") else "\nN" if x == "load" else "\nmm"
        for x in (head[i] for i in used)
    ]
    caption = "Clearance of each mating part; 0 where the hook rests on it"
    shown = table(
        caption, [w + u for w, u in zip(words, units, strict=True)], cells, words=[len(used) - 1]
    )
    verdict = Markup("<p>Verdict: {}.</p>").format(report.verdict)
    return verdict + shown + findings_list(report.findings)


def _number(text: str) -> bool:
    return text.replace(".", "").replace("-", "").isdigit()

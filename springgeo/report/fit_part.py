"""How the hooks fit what they are hooked to, at the named lengths of the stroke."""

from __future__ import annotations

from dataclasses import replace

from springgeo.fit import FitReport
from springgeo.report.html import Markup
from springgeo.report.tables import findings_list, table
from springgeo.report.value import Values
from springgeo.text.shown import word

_HEADS = {
    "state": word("state"),
    "length": word("length"),
    "load": word("load"),
    "hook 1": word("first end, own hook"),
    "body 1": word("first end, body"),
    "hook 2": word("second end, own hook"),
    "body 2": word("second end, body"),
    "bore": word("bore"),
    "rod": word("rod"),
    "verdict": word("verdict"),
}


def fit_part(report: FitReport, v: Values) -> Markup:
    """Return verdict, clearances and findings of a fit as HTML."""
    head, (_, *rows) = report.table()[0], report.table(replace(v.shown, typeset=False))
    used = [i for i in range(len(head)) if any(row[i] != "-" for row in rows)]
    cells = [
        [row[i].replace("-", "−") if _number(row[i]) else v.text(row[i]) for i in used]
        for row in rows
    ]
    words = [v.text(_HEADS.get(head[i], head[i])) for i in used]
    units = [
        "" if x in ("state", "verdict") else f"\n{v.unit('force' if x == 'load' else 'length')}"
        for x in (head[i] for i in used)
    ]
    caption = v.say("Clearance of each mating part; 0 where the hook rests on it")
    shown = table(
        caption, [w + u for w, u in zip(words, units, strict=True)], cells, words=[len(used) - 1]
    )
    told = v.say("Verdict: {verdict}.", verdict=report.verdict)
    return Markup("<p>{}</p>").format(told) + shown + findings_list(report.findings, v)


def _number(text: str) -> bool:
    return text.translate(str.maketrans("", "", ".,-")).isdigit()

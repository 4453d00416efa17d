"""The lines that say how springs made to tolerances come out."""

from __future__ import annotations

from collections.abc import Iterator

from springgeo.cli.rows import rows
from springgeo.cli.table import findings
from springgeo.results.place import KIND_WORDS, KINDS
from springgeo.results.tolerance import Spread, Stray, Tolerance
from springgeo.summary.verdict import way_words
from springgeo.text import quantity as q
from springgeo.text.quantity import Quantity
from springgeo.text.shown import PLAIN, Shown, said, word
from springgeo.tolerance.inputs import WORDS

_KINDS = {"load": "force", "length": "length", "free_length": "length", "rate": "rate"}


def lines(t: Tolerance, shown: Shown = PLAIN) -> Iterator[str]:
    """Yield the answer: what strays, how loads and margins come out, what costs most."""
    yield shown.text(_head(t))
    yield from rows(_strays(t, shown))
    yield shown.say("what comes of it (99.73 % of the springs lie from low to high)")
    yield from rows(_spreads(t, shown))
    yield shown.text(_inside(t))
    yield shown.say(
        "what costs most: share of the variance of {what}, by Sobol' indices",
        what=_words(t.spreads[t.worst]),
    )
    yield from rows(_costs(t, shown))
    if t.share is not None:
        yield shown.text(_together(t))
    yield shown.text(_correction(t))
    yield from (shown.text(text) for text in t.remarks)
    yield from findings(t.findings, shown)


def _head(t: Tolerance) -> str:
    kind = word("normal") if t.distribution == "normal" else word("uniform")
    return said(
        "{name}: {springs} springs drawn ({kind}, seed {seed})",
        name=t.name,
        springs=t.springs,
        kind=kind,
        seed=t.seed,
    )


def _strays(t: Tolerance, shown: Shown) -> list[list[str]]:
    return [
        ["", shown.say("nominal"), shown.say("from"), shown.say("to"), "", shown.say("known")],
        *(
            [
                shown.text(WORDS[x.name]),
                shown.value(Quantity(x.kind, x.nominal, 5)),
                shown.value(Quantity(x.kind, x.low, 3, signed=True)),
                shown.value(Quantity(x.kind, x.high, 3, signed=True)),
                shown.unit(x.kind),
                shown.say(x.known),
            ]
            for x in t.strays
        ),
    ]


def _spreads(t: Tolerance, shown: Shown) -> list[list[str]]:
    head = [word("nominal"), word("mean"), word("deviation"), word("low"), word("high")]
    table = [["", *map(shown.text, head), "", shown.say("limits"), shown.say("inside")]]
    for s in t.spreads:
        kind, digits = _KINDS.get(s.quantity, "number"), 4
        cells = [
            shown.value(Quantity(kind, x, digits))
            for x in (s.nominal, s.mean, s.deviation, s.low, s.high)
        ]
        limits = "-"
        if s.limit_low is not None and s.limit_high is not None:
            low, high = (
                shown.value(Quantity(kind, x, digits)) for x in (s.limit_low, s.limit_high)
            )
            limits = f"{low}..{high}"
        elif s.place is not None:
            limits = ">= 1"
        inside = "-" if s.inside is None else shown.quantity(_percent(s.inside))
        table.append([shown.text(_words(s)), *cells, shown.unit(kind), limits, inside])
    return table


def _words(s: Spread) -> str:
    if s.quantity == "load":
        return said("load {n} at {length}", n=s.number or 0, length=q.length(s.length or 0.0, 4))
    if s.quantity == "length":
        return said("length {n} under {load}", n=s.number or 0, load=q.force(s.load or 0.0, 4))
    if s.place is not None:
        place = KIND_WORDS[KINDS[s.place]]
        way = way_words(s.way or "handbook", as_mounted=s.as_mounted)
        if s.quantity == "fatigue_factor":
            return said("fatigue, {place}, {way}", place=place, way=way)
        return said("margin, {place}, {way}", place=place, way=way)
    return word("free length") if s.quantity == "free_length" else word("rate")


def _percent(share: float) -> Quantity:
    """Return a share with as many places as it needs not to be read as all or none."""
    return q.percent(100 * share, places=2)


def _inside(t: Tolerance) -> str:
    share = _percent(t.inside)
    if not t.impossible:
        return said("inside all limits: {share} of the springs", share=share)
    return said(
        "inside all limits: {share} of the springs; {wrong} cannot be made",
        share=share,
        wrong=_percent(t.impossible / t.springs),
    )


def _costs(t: Tolerance, shown: Shown) -> list[list[str]]:
    head = ["", shown.say("alone"), shown.say("in all"), shown.say("inside, if exact")]
    if t.share is not None:
        head.append(shown.say("may be, for {share}", share=_percent(t.share)))
    table = [head]
    for x in sorted(t.strays, key=lambda x: -x.total):
        row = [
            shown.text(WORDS[x.name]),
            shown.quantity(q.percent(100 * x.first, places=1)),
            shown.quantity(q.percent(100 * x.total, places=1)),
            shown.quantity(_percent(x.inside_if_exact)),
        ]
        if t.share is not None:
            row.append(_may_be(x, shown))
        table.append(row)
    return table


def _may_be(x: Stray, shown: Shown) -> str:
    if not (x.low or x.high):
        return "-"
    if x.alone is None:
        return shown.say("not by this alone")
    low, high = (Quantity(x.kind, x.alone * v, 3, signed=True) for v in (x.low, x.high))
    text = f"{shown.value(low)}..{shown.quantity(high)}"
    if x.alone_most:
        return shown.say("{range} or more", range=text)
    return text


def _together(t: Tolerance) -> str:
    share = _percent(t.share or 0.0)
    if t.together is None:
        return said(
            "for {share} no tolerances are narrow enough: the nominal loads are off", share=share
        )
    if t.together_most:
        return said(
            "for {share} all tolerances may be {factor} times as wide, or more",
            share=share,
            factor=q.number(t.together, 3),
        )
    return said(
        "for {share} all tolerances may be {factor} times as wide",
        share=share,
        factor=q.number(t.together, 3),
    )


def _correction(t: Tolerance) -> str:
    c, off = t.correction, max(s.off_percent for s in t.spreads)
    return said(
        "corrected by {asked} springs asked of the wire in equilibrium; {checked} others, drawn, "
        "are off it by {off} at most",
        asked=c.asked,
        checked=c.checked,
        off=q.percent(off, 2),
    )

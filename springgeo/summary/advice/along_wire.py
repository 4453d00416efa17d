"""Stress along the wire, where it is above its allowable or beyond what was measured."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from springgeo.findings import Finding, note, warning
from springgeo.message import Message
from springgeo.results.place import KIND_WORDS, KINDS, Place
from springgeo.summary.advice.cure import cure, field, told
from springgeo.summary.handbook import Handbook
from springgeo.summary.wire import PLACES, AlongWire
from springgeo.text import quantity as q
from springgeo.text.shown import said, together, word
from springgeo.trade.practice import practice

# up to which wire radius over bend radius the stress distribution was computed
TIGHTEST = practice("smoothest_bend")
# within which Poisson's ratio of the moduli draws no remark
USUAL_POISSON = practice("poisson_low"), practice("poisson_high")


def along_wire(book: Handbook, wire: AlongWire) -> Iterator[Finding]:
    """Return what stress along the wire adds to the handbook."""
    for point in book.points:
        along = wire.stressed(point.load)
        for region, (name, _) in PLACES.items():
            margin, other = getattr(along.margin, name), getattr(point.margin, name)
            if margin is not None and margin < 1.0 and not (other is not None and other < 1.0):
                place = Place.of(name, wire.sides(point.load)[region])
                book_says = (
                    word("which judges none") if other is None else q.number(other, places=2)
                )
                yield warning(
                    "overstressed-along-wire",
                    field(book, point),
                    said(
                        "{place}: at {point} above its allowable along the wire (margin {margin}: "
                        "{times} times what it holds), though not by the handbook ({book}); {cure}",
                        point=told(book, point),
                        place=place.words,
                        margin=q.factor(margin),
                        times=q.number(1 / margin, 3),
                        book=book_says,
                        cure=cure(book, point, name, "along the wire"),
                    ),
                )
    tightest = float(wire.unit.kappa.max()) * book.model.body.wire_diameter / 2
    if tightest > TIGHTEST:
        yield note(
            "bend-beyond-data",
            "ends",
            said(
                "the tightest bend has d/2r = {ratio}; stress along the wire is known up to "
                "{known} only and is extrapolated there",
                ratio=q.number(tightest, places=2),
                known=q.number(TIGHTEST),
            ),
        )
    yield from _poisson(book, wire)


def _poisson(book: Handbook, wire: AlongWire) -> Iterator[Finding]:
    nu = book.material.elastic_modulus / (2 * book.material.shear_modulus) - 1
    low, high = USUAL_POISSON
    if low <= nu <= high:
        return
    effect = _effect(wire.poisson_effect())
    yield note(
        "poisson-unusual",
        "wire",
        said(
            "the moduli make Poisson's ratio E/(2G) - 1 = {nu}; stress along the wire is computed "
            "at {usual} and tested from {low} to {high}, and beyond is carried on: here the shift "
            "is {effect}; compare the moduli with the wire maker's",
            nu=q.number(nu, places=2),
            usual=q.number(0.3),
            low=q.number(low),
            high=q.number(high),
            effect=effect,
        ),
    )


def _effect(shifts: Mapping[str, float]) -> Message:
    each = (together(KIND_WORDS[KINDS[k]], q.signed_percent(x)) for k, x in shifts.items())
    return together(*each, by=", ")

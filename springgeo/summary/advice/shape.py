"""What is drawn: index, coils, bends, angle of the loops, ends, units meant."""

from __future__ import annotations

from collections.abc import Iterator

from springgeo.ends.protocol import EndShape
from springgeo.findings import Finding, note, warning
from springgeo.materials import sizes
from springgeo.specification.bare import bare_finding
from springgeo.specification.end_names import SIDES
from springgeo.spring.model import End
from springgeo.summary.handbook import Handbook
from springgeo.text import quantity as q
from springgeo.text.shown import said, together, word
from springgeo.trade.limits import limits
from springgeo.trade.table import ROUNDING, within

# no gauge has more inches
THICKEST_GAUGE = 0.5


def index(book: Handbook) -> Iterator[Finding]:
    """Warn of an index outside the usual range."""
    low, high = limits()["index_usual"]
    index = book.model.body.index
    if not within(low, index, high):
        cure = word("raise the coil diameter") if index < low else word("reduce the coil diameter")
        yield warning(
            "index-unusual",
            "body",
            said(
                "index {index} is outside the usual {low} to {high}; it can be made, with wider "
                "tolerances: {cure}",
                index=q.number(index, 3),
                low=q.number(low),
                high=q.number(high),
                cure=cure,
            ),
        )


def coils(book: Handbook) -> Iterator[Finding]:
    """Warn of few coils."""
    low, _ = limits()["coils_usual"]
    if book.model.turns < low * (1 - ROUNDING):
        yield warning(
            "few-coils",
            "body.coils",
            said(
                "{coils} body coils are fewer than the {least} for which EN 13906-2 holds; add "
                "coils",
                coils=q.number(book.model.turns, 3),
                least=q.number(low),
            ),
        )


def bends(book: Handbook) -> Iterator[Finding]:
    """Warn of tight bends."""
    least, _ = limits()["bend_radius_usual"]
    for side in SIDES:
        r2 = getattr(book.model.geometry, side).bend_radius
        d = book.model.body.wire_diameter
        if r2 is not None and r2 < least * d * (1 - ROUNDING):
            yield warning(
                "bend-radius-small",
                f"ends.{side}.bend_radius",
                said(
                    "{radius} is {ratio} wire diameters, below {least}; a tighter bend breaks "
                    "earlier: enlarge it if it fits",
                    radius=q.length(r2, 4),
                    ratio=q.number(r2 / d, 3),
                    least=q.number(least),
                ),
            )


def angle(book: Handbook) -> Iterator[Finding]:
    """Say what an angle asked for did to the coils."""
    model = book.model
    wanted, built = model.spec.body.coils, model.turns
    if model.spec.ends.angle is not None and model.geometry.angle is None:
        yield note(
            "angle-unused",
            "ends.angle",
            word("an end without a loop has no loop plane; the angle is not used"),
        )
    if abs(built - wanted) > 1e-9:
        yield note(
            "coils-follow-angle",
            "body.coils",
            said(
                "{wanted} coils became {built} so that the loop planes stand at the angle asked "
                "for; leave ends.angle out to keep the coil count to the letter",
                wanted=q.number(wanted, 6),
                built=q.number(built, places=4),
            ),
        )


def ends(book: Handbook) -> Iterator[Finding]:
    """Say what ends without a hook of wire do."""
    for end in (book.model.first, book.model.second):
        shape = getattr(book.model.geometry, end.side)
        if shape.parts:
            yield from _fitted(end, shape)
        elif not end.style.holds_load:
            yield note(
                "no-hook",
                f"ends.{end.side}",
                said(
                    "a {style} carries no load by itself; hook bending and hook torsion do not "
                    "arise there",
                    style=word(end.style.title),
                ),
            )


def _fitted(end: End, shape: EndShape) -> Iterator[Finding]:
    held = together(*(word(part.name) for part in shape.parts), by=", ")
    yield warning(
        "pull-out",
        f"ends.{end.side}",
        said(
            "the strength of the {part}, and the load at which it pulls out of the coils, are not "
            "computed: prove them by test, and secure what may fly off",
            part=held,
        ),
    )
    yield note(
        "held-coils",
        f"ends.{end.side}",
        said(
            "{coils} coils are held by the {part}: they count in all coils, not in the active "
            "ones; no hook of wire is bent or twisted there",
            coils=q.number(shape.gripped_coils),
            part=held,
        ),
    )


def inches(book: Handbook) -> Iterator[Finding]:
    """Note where inches may be meant."""
    if book.model.spec.bare:
        yield bare_finding(book.model.spec.bare)
    d = book.model.body.wire_diameter
    if d < THICKEST_GAUGE and sizes.looks_like_inches(d):
        # what was written stands here in mm and in inches, whoever reads it
        text = said(
            "{d} mm is no usual size, but {d} in is; a bare number is in mm: if inches are meant, "
            "write '{d} in'",
            d=f"{d:g}",
        )
        yield note("inches-meant", "wire.diameter", text)


def material(book: Handbook) -> Iterator[Finding]:
    """Return the material's own caveats."""
    cyclic = book.model.spec.service.duty == "cyclic"
    yield from book.model.material.caveats(book.model.body.wire_diameter, cyclic)

"""The overload of a spring, between the least and the greatest published elastic limit."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import asdict

from springgeo.equilibrium.newton import NotSettledError
from springgeo.errors import SpecError, refused
from springgeo.overload.after import After
from springgeo.overload.law import Law
from springgeo.overload.spring import Overloaded
from springgeo.results.facts import Reached
from springgeo.results.overload import AtLimit, Overload, Set
from springgeo.summary.handbook import Handbook
from springgeo.summary.overload.given import Given
from springgeo.text import quantity as q
from springgeo.text.shown import said, word

# the loss of length that names a load, of the free length
SHARE = 1e-3
# a greater load than this, over that of the whole coil flowing, is not looked at
_MOST = 3.0
_REMARKS = (
    word(
        "Estimates: the wire is taken as elastic-perfectly plastic from the published elastic "
        "limit on; real wire hardens, so that it keeps less set and bears more. Measure a sample."
    ),
    word(
        "Coiling stress is taken as gone after heat treatment by the share relieved; what winding "
        "initial tension twists in, setting at the maker's, time and temperature are left out."
    ),
)


def overload_facts(
    book: Handbook, given: Given, told: Callable[[float], object] | None = None
) -> Overload:
    """Return what an overload leaves of the spring, and which load costs 0.1 % of its length.

    ``told``, if any, is told every load that is looked at, N.

    Raises
    ------
    SpecError
        No published elastic limit, or a load that pulls even the strongest wire through.
    """
    limits = book.model.material.data.elastic_limits
    if limits is None:
        raise refused(
            "elastic-limit-missing",
            "wire.material",
            said(
                "no elastic limit of {material} is at hand, so that no set can be estimated; "
                "choose a material with one, or test",
                material=word(book.model.material.title),
            ),
        )
    curve = book.curve
    if given.length is not None:
        curve.load(given.length)  # refuses what is below the free length or out of reach
    sides = []
    E, G, S_ut = curve.spring.E, curve.spring.G, book.material.tensile_strength
    for tension, torsion in zip(limits.tension, limits.torsion, strict=True):
        law = Law(E, G, tension * S_ut, torsion * S_ut, given.hardening * E)
        sides.append(_at_limit(Overloaded(curve, law, given.relieved, told), given))
    if sides[1].yields_through:
        raise _through(given, sides[1])
    return Overload(
        **asdict(given),
        costs_percent=100 * SHARE,
        least=sides[0],
        greatest=sides[1],
        source=limits.source,
        known=limits.known,
        remarks=_REMARKS,
    )


def _at_limit(spring: Overloaded, given: Given) -> AtLimit:
    after, through = None, False
    try:
        if given.load is not None:
            _require_within(spring, given.load)
            after = spring.after_load(given.load)
        elif given.length is not None:
            after = spring.after_length(given.length)
    except (NotSettledError, ArithmeticError):
        through = True
    found = spring.load_costing(SHARE)
    return AtLimit(
        tension=spring.law.tension,
        torsion=spring.law.torsion,
        set=None if after is None else _set(spring, after),
        yields_through=through,
        costs=None if found is None else Reached(load=found[0], length=found[1]),
    )


def _set(spring: Overloaded, after: After) -> Set:
    free, wound = spring.curve.free_length, spring.curve.initial_tension
    left = min(after.initial_tension, wound)
    return Set(
        load=after.load,
        length=after.length,
        yields=after.lengthened != 0.0,
        lengthened=after.lengthened,
        share_percent=100 * after.lengthened / free,
        free_length=free + after.lengthened,
        opened_first=after.opened[0],
        opened_second=after.opened[1],
        initial_tension=left,
        initial_tension_lost=wound - left,
    )


def _require_within(spring: Overloaded, load: float) -> None:
    g, law = spring.curve.spring.geometry, spring.law
    through = math.pi * g.wire_diameter**3 * law.torsion / 12 / g.coil_radius
    if load > _MOST * through and law.hardening == 0.0:
        raise NotSettledError(f"{load:g} N is beyond {_MOST:g} times the plastic torque")


def _through(given: Given, at: AtLimit) -> SpecError:
    if at.costs is None:
        lower = word("give less")
    else:
        lower = said(
            "give less ({load} costs {share} of the length)",
            load=q.force(at.costs.load),
            share=q.percent(100 * SHARE),
        )
    return refused(
        "yields-through",
        "load" if given.load is not None else "length",
        said(
            "at {what} the wire yields through its whole section, even of the greatest published "
            "elastic limit: coils or hooks draw out; {lower}",
            what=q.length(given.length or 0.0) if given.load is None else q.force(given.load),
            lower=lower,
        ),
    )

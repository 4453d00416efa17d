"""Every style drawn too far: ``python -m tests.stability.overloads --count 200``.

The springs of ``loaded``, in wire that yields at 1,200 MPa in tension and 800 in torsion, pulled
beyond first yield, one in three with a part of its coiling stress left. What is left of it must
rise with the load, the initial tension must not, hooks must not close, the length drawn to must
be beyond the elastic one, and the same length must lead to the same load. At the very first a
spring may be left a little shorter: a long end whose foot has yielded stands less straight. So may
one with eyes at its side, whose coils keep the body as long as it was, if it is longer as soon as
it is pulled by what was wound in.
"""

from __future__ import annotations

import math
from pathlib import Path

from springgeo import Spring
from springgeo.equilibrium.newton import NotSettledError
from springgeo.errors import SpringgeoError
from springgeo.overload.after import After
from springgeo.overload.law import Law
from springgeo.overload.spring import Overloaded

from .loaded import drawn
from .trials import another, main

TENSION, TORSION = 1200.0, 800.0
# of the load at first yield
SHARES = (0.9, 1.15, 1.3)
# shorter by no more than this share of what it was drawn by; what counts as nothing, mm
SHORTER, NOTHING = 3e-4, 1e-4


def trial(seed: int, folder: Path) -> bool:
    """Overload one spring three times."""
    data = drawn(seed)
    try:
        spring = Spring.from_dict(data)
    except SpringgeoError:
        return False
    curve = spring.load_curve
    relieved = 0.7 if seed % 3 == 0 else 1.0
    overloaded = Overloaded(curve, Law(curve.spring.E, curve.spring.G, TENSION, TORSION), relieved)
    first = overloaded.first_yield
    if math.isinf(first) or first < 1.2 * curve.pressing:
        return False
    before: After | None = None
    for share in SHARES:
        another()
        try:
            now = overloaded.after_load(share * first)
        except NotSettledError:  # the wire yields through
            return before is not None
        if now.lengthened < -SHORTER * (now.length - curve.free_length):
            _require_longer(overloaded, now)
            return True
        _require(
            now,
            before,
            curve.free_length,
            f"at {share} of {first:.5g} N; relieved {relieved}; {data}",
        )
        elastic = curve.length(now.load) if share < 1 else 0.0
        assert now.length >= elastic * (1 - 1e-9), f"{now} shorter than {elastic}; {data}"
        before = now
    another()
    assert before is not None
    again = overloaded.after_length(before.length)
    off = again.load / before.load - 1
    assert abs(off) < 0.01, f"{again} by length, {before} by load; relieved {relieved}; {data}"
    return True


def _require_longer(overloaded: Overloaded, now: After) -> None:
    """Assert that a spring left shorter is longer under its initial tension."""
    curve, drawn = overloaded.curve, overloaded.made
    for share in (0.9, 0.95, 1.0):
        drawn = drawn.loaded(share * now.load)
    left = drawn.unloaded(curve.initial_tension).at
    assert left is not None
    more = left.extension - curve.solve(curve.initial_tension).extension
    assert more > 2 * abs(now.lengthened), f"{now}, {more} longer under initial tension"


def _require(now: After, before: After | None, free: float, where: str) -> None:
    """Assert that more load leaves more."""
    least = -SHORTER * (now.length - free)
    assert now.lengthened >= least, f"{now} {where}"
    assert all(x is None or x >= -NOTHING for x in now.opened), f"{now} {where}"
    if before is None:
        return
    assert now.length > before.length, f"{now} after {before} {where}"
    assert now.lengthened >= before.lengthened + least, f"{now} after {before} {where}"
    assert now.initial_tension <= before.initial_tension * (1 + 2e-3) + 1e-6, (
        f"{now} after {before} {where}"
    )
    for x, y in zip(before.opened, now.opened, strict=True):
        assert x is None or y is None or y >= x - 1e-4, f"{now} after {before} {where}"


if __name__ == "__main__":
    main("overloads", trial)

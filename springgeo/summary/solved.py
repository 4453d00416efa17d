"""What equilibrium and iteration found: method, what it was found from, evidence."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Protocol

from springgeo.equilibrium.load_curve import LoadCurve
from springgeo.statics.energy import rate_of
from springgeo.worked.number import recording, switched, told

EQUILIBRIUM = (
    "the wire in equilibrium as a rod that bends, twists and stretches, its coils pressing "
    "until they part, its ends turning on their pins as their styles say"
)
_EVIDENCE = (
    "non-linear finite elements of two springs: rate within 0.1 %, shape within 0.02 d, greatest "
    "stresses within 1.4 %",
    "Love's helix (A. E. H. Love, Mathematical Theory of Elasticity): within 1e-6",
)
_SOUGHT = {
    "source": "sought between loads, good to 1e-6",
    "known": "derived",
}


class Sought(Protocol):
    """What an equilibrium is found from; a handbook has it."""

    @property
    def found_from(self) -> Mapping[str, float]:
        """Free length, initial tension, moduli and diameters, by their symbols; mm, N, MPa."""
        ...

    @property
    def curve(self) -> LoadCurve:
        """Load over length."""
        ...


def length(book: Sought, load: float, found: float) -> float:
    """Return a length of the load curve, mm, at a load, N."""
    words = "length inside hooks under the load"
    return _of(book, found, ("L", words, "mm"), {"F": load}, lambda: _below(book, load))


def load(book: Sought, length: float, found: float) -> float:
    """Return a load of the load curve, N, at a length, mm."""
    return _of(book, found, ("F", "load that holds the length inside hooks", "N"), {"L": length})


def _of(
    book: Sought,
    found: float,
    what: tuple[str, str, str],
    given: Mapping[str, float],
    how: Callable[[], tuple[str, ...]] = tuple,
) -> float:
    """Return what equilibrium found: its symbol, title and unit, and what it was found for."""
    symbol, title, unit = what
    return told(
        found,
        "solved",
        symbol=symbol,
        title=title,
        unit=unit,
        source=EQUILIBRIUM,
        known="own method, measured",
        more=lambda: {
            "operands": {**given, **book.found_from},
            "notes": (*how(), *notes(book)),
        },
    )


def _below(book: Sought, load: float) -> tuple[str, ...]:
    """Return what holds for a load that does not part the coils."""
    if not 0 < load <= book.found_from["F_i"]:
        return ()
    return (
        "not above the initial tension: the coils press on each other, the hooks alone give; by "
        "the textbook's straight line the spring stays at its free length",
    )


def small_rate(book: Sought, compliance: Mapping[str, float]) -> float:
    """Return the rate of small loads, N/mm, by the energy of the wire as drawn."""
    shares = sorted(compliance.items(), key=lambda x: -x[1])
    rows = tuple(f"{label} gives {x:.6g} mm/N" for label, x in shares if x > 0)
    return told(
        rate_of(compliance),
        "solved",
        symbol="k",
        title="rate of small loads, of the shape as drawn with its coils apart",
        unit="N/mm",
        source="Castigliano: one over the sum of the pieces' compliances, by the energy of torque, "
        "bending, tension and shear along the centreline",
        known="own method, measured",
        notes=(*rows, "finite elements of nine springs: rate within 0.1 %"),
        more=lambda: {"operands": book.found_from},
    )


def notes(book: Sought) -> tuple[str, ...]:
    """Return how finely the wire was cut, and the evidence."""
    rod = book.curve.balance.rod
    cells, pairs = len(rod.drawn.s) - 1, len(rod.pairs)
    return (
        f"{cells} cells of wire between the pins, {pairs} places where coils may touch",
        *_EVIDENCE,
    )


def reached_mounted(book: Sought, found: float) -> float:
    """Return a load, N, at which the spring as mounted has the first stress at its allowable."""
    return told(
        found,
        "solved",
        symbol="F",
        title="load at which the first stress reaches its allowable as mounted",
        unit="N",
        **_SOUGHT,
        more=lambda: {"operands": book.found_from, "notes": notes(book)},
    )


def reaching(
    stress: Callable[[float], float | None],
    limit: float,
    wound: float,
    search: Callable[[Callable[[float], float | None], float, float], float],
) -> float:
    """Return the load, N, at which a stress reaches a limit, MPa, as a search finds it."""
    if not recording():
        return search(stress, limit, wound)
    with switched(False):
        found = float(search(stress, float(limit), float(wound)))

    def more() -> dict[str, Any]:
        at = told(found, "solved", symbol="F", title="the load found", unit="N", **_SOUGHT)
        return {"operands": {"s": stress(at) or 0.0, "limit": limit}}

    return told(
        found,
        "solved",
        symbol="F",
        title="load at which the stress s reaches the limit",
        unit="N",
        **_SOUGHT,
        notes=("a body wound at more than the limit cannot be pulled: then the initial tension",),
        more=more,
    )

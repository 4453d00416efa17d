"""How many triangles a tube needs: the chord error shared between round and along the wire."""

from __future__ import annotations

import math
from dataclasses import dataclass

from springgeo.curve import Path
from springgeo.errors import refused
from springgeo.text import quantity as q
from springgeo.text.shown import said

# beyond this a file is larger than a gigabyte and no program shows it
MOST_TRIANGLES = 20_000_000
# a coarser mesh than this fraction of the radius (a heptagon) no longer looks like a wire
COARSEST = 0.2
# a piece shorter than so many radii gets no ring of its own: single precision, in which files
# hold corners, would tell two rings so close as one
SLIVER = 4e-4
# held back for the terms of second order, see tube_mesh
RESERVE = 0.05


@dataclass(frozen=True)
class Density:
    """``around`` corners in every ring and ``steps`` between rings, one number a piece.

    None on a piece that is as good as nothing: the step before it goes on to its end.
    """

    around: int
    steps: tuple[int, ...]

    @property
    def triangles(self) -> int:
        """Number of triangles, both caps included."""
        return 2 * self.around * (sum(self.steps) + 1)


def density(path: Path, radius: float, chord: float) -> Density:
    """Return the coarsest regular division with a chord error of at most ``chord`` mm.

    The number of triangles goes with ``1/√(e_φ e_u)``, so equal shares are the cheapest; what
    rounding ``around`` up leaves over goes to the length.

    Raises
    ------
    SpecError
        ``radius`` or ``chord`` not usable, a bend tighter than the radius, or more than
        ``MOST_TRIANGLES`` triangles.
    """
    _check(path, radius, chord)
    budget = (1 - RESERVE) * min(chord, COARSEST * radius)
    half_step = 2 * math.asin(math.sqrt(budget / radius / 4))  # r (1 - cos x) = budget / 2
    corners = math.pi / max(half_step, 1e-12)
    along = budget - radius * (1 - math.cos(math.pi / math.ceil(corners)))
    steps = [
        p.segment.length * math.sqrt(k * (1 + k * radius) / (8 * max(along, 1e-300)))
        for p in path.pieces
        for k in [p.segment.max_curvature]
    ]
    wanted = 2 * corners * (sum(max(1.0, x) for x in steps) + 1)
    if not wanted <= MOST_TRIANGLES:
        raise refused(
            "mesh-too-fine",
            "chord",
            said(
                "a chord error of {chord} needs about {wanted} triangles, more than "
                "{most_triangles}; choose a larger one, such as {radius}",
                chord=q.length(chord, 6),
                wanted=q.number(wanted, 2),
                most_triangles=f"{MOST_TRIANGLES:,}",
                radius=q.length(0.02 * radius, 3),
            ),
        )
    long = [i == 0 or p.segment.length > SLIVER * radius for i, p in enumerate(path.pieces)]
    each = (max(1, math.ceil(x)) if y else 0 for x, y in zip(steps, long, strict=True))
    return Density(math.ceil(corners), tuple(each))


def _check(path: Path, radius: float, chord: float) -> None:
    for name, words, size in (
        ("radius", "wire's radius", radius),
        ("chord", "chord error", chord),
    ):
        if not (math.isfinite(size) and size > 0):
            text = said(
                "the {size} is {value}; it must be above zero", size=words, value=q.length(size, 6)
            )
            raise refused(f"{name}-not-positive", name, text)
    if chord >= radius:
        raise refused(
            "chord-too-large",
            "chord",
            said(
                "a chord error of {chord} is not below the wire's radius of {radius}; choose a "
                "smaller one, such as {radius_2}",
                **q.lengths(6, chord=chord, radius=radius),
                radius_2=q.length(0.02 * radius, 3),
            ),
        )
    for piece in path.pieces:
        k = piece.segment.max_curvature
        if k * radius >= 1:
            raise refused(
                "bend-too-tight",
                piece.label,
                said(
                    "the wire bends to a radius of {bend}, not above its own radius of {radius}: "
                    "its inside would fold over; make the bend wider",
                    bend=q.length(1 / k, 4),
                    radius=q.length(radius, 6),
                ),
            )

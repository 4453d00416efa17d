"""The loop of a swivel, seen by the fit as a hook of its own thicker wire."""

from __future__ import annotations

import numpy as np

from springgeo.curve import Line, Path, Piece
from springgeo.curve.frame import vector
from springgeo.curve.root import bisect
from springgeo.ends.protocol import EndShape
from springgeo.specification.end_names import Side
from springgeo.spring.geometry import Geometry

_PLAIN = EndShape(pieces=(), hook_length=0.0)


def hook_of(geometry: Geometry, side: Side) -> Geometry:
    """Return what forms the hook of an end: the spring, or the rod of a swivel it holds."""
    if geometry.contact_s[0 if side == "first" else 1] is not None:
        return geometry
    return held_hook(geometry, side) or geometry


def held_hook(geometry: Geometry, side: Side) -> Geometry | None:
    """Return the rod of an end's part as a spring without coils, or None without a rod.

    Same frame and height as the spring itself; the rod is the end's hook, and a
    stub of its shank stands in for the body.
    """
    rods = [p.rod for p in geometry.parts if p.name.startswith(f"{side}.")]
    rod = next((r for r in rods if r is not None), None)
    if rod is None:
        return None
    path, radius = rod
    out = 1.0 if side == "second" else -1.0
    foot = path.point(np.zeros(1))[0]
    stub = Line.between(foot - vector(0.0, 0.0, out * 2 * radius), foot)
    hook = tuple(Piece(p.segment, f"{side}.{p.label}", p.role) for p in path.pieces)
    whole = Path([Piece(stub, f"{side}.shank", "body"), *hook])
    # the rod comes up, passes the apex and comes down: there its tangent is level
    start = float(sum(p.segment.length for p in hook if p.role != "loop"))
    apex = bisect(lambda s: out * float(path.tangent(np.array([s]))[0, 2]), start, path.length)
    shape = EndShape(
        pieces=hook,
        hook_length=geometry.height - 2 * radius,
        contact_s=apex,
    )
    if side == "first":
        whole = whole.reversed()
    a, b = (shape, _PLAIN) if side == "first" else (_PLAIN, shape)
    return Geometry(
        path=whole,
        wire_diameter=2 * radius,
        coil_radius=radius,
        pitch=0.0,
        turns=0.0,
        hand=geometry.hand,
        first=a,
        second=b,
    )

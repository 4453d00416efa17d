"""From a drawn spring to the rod that hangs between its two points of pull."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array, unit
from springgeo.curve.motion import least_rotation
from springgeo.ends.protocol import EndShape, Turning
from springgeo.equilibrium.boundary import Support, Supports
from springgeo.equilibrium.contact.pairs import Pairs
from springgeo.equilibrium.natural import PER_TURN, Drawn, drawn
from springgeo.equilibrium.rod import Rod, stiffness
from springgeo.errors import SpecError
from springgeo.findings import error
from springgeo.mechanics import round_wire
from springgeo.specification.body import COIL_CLEARANCE
from springgeo.spring.geometry import Geometry

# width of the contact in wire diameters: with initial tension, and where coils only touch
PRESSED, TOUCHING = 4e-5, 8e-6
# coils without initial tension are given one that opens a coil by this many wire diameters
_TOUCH = 1e-3
# ends nearer than this many wire diameters have no line of pull
_APART = 1e-6


@dataclass(frozen=True, eq=False)
class Wound:
    """A spring as it is wound: shape, wire and tension.

    ``tension`` is the pull against which neighbouring coils press, N; None in an open body.
    """

    geometry: Geometry
    E: float
    G: float
    tension: float | None


def rod(wound: Wound, turning: tuple[Turning, Turning], fineness: float = 1.0) -> Rod:
    """Return the rod of a drawn spring, turned so that the pull runs along +z.

    Raises SpecError where both ends are pulled at one point.

    Parameters
    ----------
    wound : Wound
    turning : (Turning, Turning)
        What turning ends A and B are left.
    fineness : float
        Multiplies the number of cells.
    """
    g = wound.geometry
    path, d = g.path, g.wire_diameter
    wire = drawn(path, d, g.load_s, fineness)
    points = g.pull_points
    a, b = (
        Support(how, grip(shape, at, wire.R[i], wire.p[i]))
        for how, shape, at, i in zip(turning, (g.first, g.second), points, (0, -1), strict=True)
    )
    # what keeps an end upright keeps the other over it; free ends pull along the way between them
    upright = 0 in a.held or 0 in b.held
    supports = Supports(a, b, np.zeros(2) if upright else None)
    start = supports.a.point(wire.R[0], wire.p[0])
    end = supports.b.point(wire.R[-1], wire.p[-1])
    if not np.linalg.norm(end - start) > _APART * d:
        raise _on_one_point()
    turn = to_z(unit(end - start))
    wire = Drawn(
        wire.s,
        wire.piece,
        wire.length,
        wire.strain,
        turn @ wire.R,
        (wire.p - start) @ turn.T,
    )
    least = wound.G * d**4 / (8 * (2 * g.coil_radius) ** 3) * _TOUCH * d
    pressed = wound.tension is not None and wound.tension > least
    return Rod(
        wire,
        stiffness(wire.strain, d, wound.E, wound.G),
        float(round_wire.axial_stiffness(d, wound.E)),
        d,
        supports,
        _pairs(g, wire, wound.tension is None, fineness),
        max(wound.tension or 0.0, least),
        (PRESSED if pressed else TOUCHING) * d,
    )


def _on_one_point() -> SpecError:
    text = "both ends are pulled at one point, so nothing can pull them apart; make the body longer"
    return SpecError(error("pins-on-one-point", "ends", text))


def grip(shape: EndShape, point: Array, R: Array, p: Array) -> Array:
    """Return the offset of a rigid grip in the axes of its node, ``(3,) mm``; none in a hook."""
    if shape.contact_s is not None:
        return np.zeros(3)
    offset: Array = R.T @ (point - p)
    return offset


def to_z(along: Array) -> Array:
    """Return the least rotation that turns a unit vector to +z, ``(3, 3)``."""
    return least_rotation(along, np.array([0.0, 0.0, 1.0]))


def _pairs(g: Geometry, wire: Drawn, is_open: bool, fineness: float) -> Pairs:
    """Return the pairs of nodes one turn apart in the body."""
    body = [i for i, piece in enumerate(g.path.pieces) if piece.role == "body"]
    cells: npt.NDArray[np.intp] = np.flatnonzero(np.isin(wire.piece, body))
    stride = max(1, round(PER_TURN * fineness))
    # nodes stand an even fraction of a turn apart but for the body's last one
    nodes = np.append(cells, cells[-1] + 1)
    if len(nodes) <= stride:
        return Pairs()
    touching = g.wire_diameter * (1 + COIL_CLEARANCE) if is_open else None
    return Pairs.of(nodes, stride, wire.R, wire.p, wire.s, touching)

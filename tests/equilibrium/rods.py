"""Rods to try the solver on: springs from a specification, and plain pieces of wire."""

from __future__ import annotations

from typing import Any

import numpy as np

import springgeo as sg
from springgeo.curve import Path, Piece, Segment
from springgeo.curve.frame import Array
from springgeo.ends.protocol import Turning
from springgeo.equilibrium.boundary import Support, Supports
from springgeo.equilibrium.contact.pairs import Pairs
from springgeo.equilibrium.hung import Wound
from springgeo.equilibrium.load_curve import LoadCurve
from springgeo.equilibrium.natural import drawn
from springgeo.equilibrium.rod import Rod
from springgeo.summary.handbook import Handbook


def spring(style: str, D: float = 8.0, coils: float = 6.3, **more: Any) -> sg.Spring:
    """Return a spring of 1 mm wire with the same end twice."""
    body = {"mean_diameter": D, "coils": coils, **more}
    return sg.Spring.from_dict(
        {
            "name": "trial",
            "wire": {
                "material": "en-10270-1-sm",
                "diameter": 1.0,
                "elastic_modulus": 206000.0,
                "shear_modulus": 79230.77,
            },
            "body": body,
            "ends": {"first": {"style": style}, "second": {"style": style}},
        }
    )


def curve_of(spring: sg.Spring, turning: tuple[Turning, Turning] | None = None) -> LoadCurve:
    """Return a spring's load curve; the ends turn as their styles say unless told otherwise."""
    book = Handbook(spring.model)
    tension = None if spring.model.body.is_open else book.initial_tension.force
    made = Wound(
        spring.model.geometry, book.material.elastic_modulus, book.material.shear_modulus, tension
    )
    a, b = spring.model.first.style.turning, spring.model.second.style.turning
    return LoadCurve(made, turning or (a, b))


def wire(segment: Segment, stiffness: Array, a: Support, b: Support, cells: float = 1.0) -> Rod:
    """Return a rod of one segment with the stiffness GJ, EI, EI, ``(3,) N mm²``; no stretch."""
    made = drawn(Path([Piece(segment, "wire", "straight")]), 1.0, (0.0, segment.length), cells)
    return Rod(
        made,
        np.tile(stiffness, (len(made.length), 1)),
        1e30,
        1.0,
        Supports(a, b),
        Pairs(),
        0.0,
        1e-5,
    )

"""One spring in many mountings: what a mating section makes of its pull."""

from __future__ import annotations

from typing import Any

import springgeo as sg

PIN = {"pin": {"diameter": 4.0, "length": 20.0}}
HELD = {**PIN, "holding": "held"}
ASIDE = {"first": HELD, "second": HELD, "offset": [6.0, 0.0]}
FREE = {"first": PIN, "second": PIN, "offset": [9.0, -12.0]}


def gate(service: dict[str, Any], mating: dict[str, Any] | None = None, *styles: str) -> sg.Spring:
    """Return a spring, of two half loops if no styles are given, with 5.7 N of initial tension.

    Pulled straight it holds 47.8 N, between ``ASIDE`` 37.4 N.
    """
    a, b = styles or ("machine-half-loop", "machine-half-loop")
    data: dict[str, Any] = {
        "name": "gate",
        "wire": {"material": "astm-a228", "diameter": 1.2},
        "body": {"mean_diameter": 9.6, "coils": 12, "initial_stress": 80},
        "ends": {"first": {"style": a}, "second": {"style": b}},
        "service": service,
    }
    return sg.Spring.from_dict(data if mating is None else {**data, "mating": mating})


def aside(service: dict[str, Any], *styles: str, offset: float = 6.0) -> sg.Spring:
    """Return it between held pins that stand aside of each other, mm."""
    return gate(service, {**ASIDE, "offset": [offset, 0.0]}, *styles)

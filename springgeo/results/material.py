"""The wire's material and what the service temperature does to it."""

from __future__ import annotations

from springgeo.message import Text
from springgeo.results.facts import Facts


class MaterialFacts(Facts):
    """The wire's material as used, at the service temperature: MPa, g/cm³."""

    id: str
    title: str
    tensile_strength: float
    tensile_source: Text
    shear_modulus: float
    elastic_modulus: float
    density: float


class Sourced(Facts):
    """A value, where it comes from, and how that is known; None with ``not known``."""

    value: float | None
    source: str
    known: str


class TemperatureFacts(Facts):
    """The service temperature, degC, its limits, and what it does to the wire.

    Shares are of the figures at 20 degC; ``material`` holds the figures as used.
    """

    value: float
    highest: Sourced
    lowest: Sourced
    modulus_share: Sourced
    strength_share: Sourced
    relaxation_percent: Sourced

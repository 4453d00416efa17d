"""The summary: versioned keys, SI-mm throughout (mm, N, MPa, N/mm, kg, deg, degC)."""

from __future__ import annotations

import hashlib
from typing import Any

from springgeo.findings import Finding
from springgeo.message import Text
from springgeo.results.along_wire import AlongTheWire, WirePoint
from springgeo.results.facts import CAUTIONS, Document
from springgeo.results.fatigue import Fatigue
from springgeo.results.geometry import FittedPart, FreeLength, GeometryFacts
from springgeo.results.handbook import (
    Convention,
    Dynamics,
    InitialTension,
    StaticCheck,
    StressRange,
    WorkingPoint,
)
from springgeo.results.load_line import LoadLine
from springgeo.results.loaded import CoilContacts, Lean, Pins, Rates
from springgeo.results.material import MaterialFacts, TemperatureFacts
from springgeo.results.overload import Overload
from springgeo.results.pull import Pull
from springgeo.results.verdict import Check, Verdict

SCHEMA = "springgeo-summary/1"


class Summary(Document):
    """Everything known about one spring."""

    schema_version: str = SCHEMA
    name: str
    units: str = "mm, N, MPa, N/mm, kg, g/cm3, deg, degC"
    specification: dict[str, Any]
    # the file as its author wrote it, where there was one
    specification_text: str | None = None
    material: MaterialFacts
    temperature: TemperatureFacts
    geometry: GeometryFacts
    parts: tuple[FittedPart, ...] = ()
    free_length: FreeLength
    rate: float
    rates: Rates
    active_coils: float
    rate_conventions: dict[str, Convention]
    initial_tension: InitialTension
    initial_tension_ranges: tuple[StressRange, ...]
    static_check: StaticCheck | None
    points: tuple[WorkingPoint, ...]
    along_the_wire: AlongTheWire
    contact: CoilContacts | None
    pins: Pins
    # the working points where the mating section makes the pull another than a straight one
    mounted: tuple[WirePoint, ...] = ()
    lean: tuple[Lean, ...]
    verdict: Verdict | None
    pull: Pull
    overload: Overload | None = None
    fatigue: Fatigue | None
    load_line: LoadLine
    dynamics: Dynamics
    findings: tuple[Finding, ...]
    checks: tuple[Check, ...] = ()
    cautions: tuple[Text, ...] = CAUTIONS

    def digest(self) -> str:
        """Return the first 16 hex digits of the SHA-256 of the JSON text without spaces."""
        return hashlib.sha256(self.json_text(None).encode()).hexdigest()[:16]

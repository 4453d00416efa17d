"""What was recovered from a part: values with their uncertainty, ends, residual, specification."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal

from springgeo.curve.frame import Array
from springgeo.findings import Finding
from springgeo.recovery.end.recovered import RecoveredEnd
from springgeo.recovery.picture import residual_svg
from springgeo.recovery.residual import Residual
from springgeo.recovery.units import Unit
from springgeo.recovery.value import Value
from springgeo.specification.end_names import SIDES

if TYPE_CHECKING:
    from springgeo.api import Spring
    from springgeo.measure import Measured


@dataclass(frozen=True, eq=False)
class Recovered:
    """A spring recovered from a part.

    Attributes
    ----------
    name, format : str
    unit : Unit
        Of the file's coordinates.
    points : int
        Read.
    values : mapping of str to Value
        mm, rad, and coils.
    hand : "right" or "left"
    state : "wound solid" or "open"
    axis, origin : (3,) float
        Direction of the spring from its first end to the second, and the contact point of the
        first, in the file's own unit and axes.
    ends : (RecoveredEnd, RecoveredEnd)
    residual : Residual
    specification : dict
        As a file would hold it; it builds.
    measured : Measured or None
        What readings of load at length added.
    findings : tuple of Finding
    """

    name: str
    format: str
    unit: Unit
    points: int
    values: dict[str, Value]
    hand: Literal["right", "left"]
    state: Literal["wound solid", "open"]
    axis: Array
    origin: Array
    ends: tuple[RecoveredEnd, RecoveredEnd]
    residual: Residual
    specification: dict[str, Any]
    measured: Measured | None = None
    findings: tuple[Finding, ...] = field(default=())

    def spring(self) -> Spring:
        """Return the spring of the specification."""
        from springgeo.api import Spring

        return Spring.from_dict(self.specification)

    def picture(self) -> str:
        """Return an SVG: the spring, coloured by how far its points lie off, and the residual."""
        return residual_svg(self.name, self.spring().model.geometry, self.residual)

    def mapping(self) -> dict[str, Any]:
        """Return everything as JSON holds it; lengths in mm, angles in rad."""
        return {
            "schema_version": "springgeo-recovered/1",
            "name": self.name,
            "format": self.format,
            "unit": self.unit._asdict(),
            "points": self.points,
            "hand": self.hand,
            "state": self.state,
            "values": {k: _value(v) for k, v in self.values.items()},
            "ends": dict(zip(SIDES, map(_end, self.ends), strict=True)),
            "axis": self.axis.tolist(),
            "origin": self.origin.tolist(),
            "residual": {"rms": self.residual.rms, "explained": self.residual.explained},
            "specification": self.specification,
            "findings": [f.model_dump() for f in self.findings],
        }

    def rows(self) -> Iterator[tuple[str, Value]]:
        """Yield every value with its name, those of the ends with ``a.`` or ``b.`` before it."""
        yield from self.values.items()
        for side, end in zip(SIDES, self.ends, strict=True):
            for name, value in end.values.items():
                yield f"{side}.{name}", value


def _value(v: Value) -> dict[str, Any]:
    return {"value": v.value, "low": v.low, "high": v.high, "kind": v.kind}


def _end(end: RecoveredEnd) -> dict[str, Any]:
    return {
        "style": end.style,
        "equal": list(end.equal),
        "known": end.known,
        "points_off": end.off,
        "unseen": end.unseen,
        "missing": end.missing,
        "broken": list(end.broken),
        "wide": end.wide,
        "values": {k: _value(v) for k, v in end.values.items()},
    }

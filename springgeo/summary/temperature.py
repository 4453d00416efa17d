"""What the service temperature does to the wire: moduli, strength, service limits, relaxation.

Every figure is the material's own, with its source; what no source at hand gives is said to be
not known, and the figure at 20 degC is used in its place.
"""

from __future__ import annotations

from collections.abc import Iterator

from springgeo.errors import refused
from springgeo.findings import Finding, note
from springgeo.materials.material_file import Sourced, Value
from springgeo.message import Message
from springgeo.results.material import Sourced as SourcedValue
from springgeo.results.material import TemperatureFacts
from springgeo.spring.model import SpringModel
from springgeo.text import quantity as q
from springgeo.text.quantity import Quantity
from springgeo.text.shown import said, word

# tensile tests are made within these, degC, and their figures hold there: ISO 6892-1, from memory
ROOM = (10.0, 35.0)
_FIELD = "service.temperature"


def temperature_facts(model: SpringModel) -> TemperatureFacts:
    """Return the temperature, its limits, and what it does, each with its source."""
    m, T = model.material, model.spec.service.temperature
    data = m.data
    return TemperatureFacts(
        value=T,
        highest=_sourced(m.temperature_limit, data.temperature_limit_degC),
        lowest=_sourced(m.temperature_minimum, data.temperature_minimum_degC),
        modulus_share=_sourced(
            None if data.modulus_loss_per_K is None else m.modulus_share(T), data.modulus_loss_per_K
        ),
        strength_share=_sourced(m.strength_share(T), data.strength_at_temperature),
        relaxation_percent=_sourced(m.relaxation(T), data.relaxation),
    )


def _sourced(value: float | None, block: Sourced | None) -> SourcedValue:
    if value is None:
        return SourcedValue(value=None, source="not known", known="not known")
    if block is None:
        return SourcedValue(value=value, source="at room temperature", known="common practice")
    return SourcedValue(value=value, source=block.source, known=block.known)


def _named(model: SpringModel, limit: Value | None = None) -> dict[str, Quantity | Message]:
    """Return what every text here names: the wire, the temperature, and a limit of it."""
    T = model.spec.service.temperature
    named: dict[str, Quantity | Message] = {
        "material": word(model.material.title),
        "T": q.temperature(T, 6),
    }
    if limit is None:
        return named
    return {**named, "limit": q.temperature(limit.value, 6), "source": word(limit.source)}


def require_limits(model: SpringModel) -> None:
    """Raise SpecError where the service temperature is beyond what the wire is used at."""
    m, T = model.material, model.spec.service.temperature
    high, low = m.data.temperature_limit_degC, m.data.temperature_minimum_degC
    if high is not None and high.value < T:
        text = said(
            "{T} is above {limit}, the limit of {material} ({source}); choose another material, or "
            "give a material file of your own with its limit",
            **_named(model, high),
        )
        raise refused("too-hot", _FIELD, text)
    if low is not None and low.value > T:
        text = said(
            "{T} is below {limit}, down to which {material} is used ({source}); choose another "
            "material, or give a material file of your own with its limit",
            **_named(model, low),
        )
        raise refused("too-cold", _FIELD, text)


def temperature_findings(model: SpringModel) -> Iterator[Finding]:
    """Yield what is not known at the service temperature, or is lost there over time."""
    m, T = model.material, model.spec.service.temperature
    if ROOM[0] <= T <= ROOM[1]:
        return
    if m.data.modulus_loss_per_K is None:
        text = said(
            "the moduli of {material} at {T} are not known; the rate is that at {room}",
            room=q.temperature(20.0),
            **_named(model),
        )
        yield note("modulus-at-temperature-unknown", _FIELD, text)
    if m.strength_share(T) is None:
        yield note(
            "strength-at-temperature-unknown",
            _FIELD,
            said(
                "the strength of {material} at {T} is not known; margins take that at {room}: ask "
                "the wire maker",
                room=q.temperature(20.0),
                **_named(model),
            ),
        )
    if ROOM[1] < T:
        yield _relaxation(model)


def _relaxation(model: SpringModel) -> Finding:
    m, T = model.material, model.spec.service.temperature
    loss, table = m.relaxation(T), m.data.relaxation
    if loss is None or table is None:
        return note(
            "relaxation-unknown",
            _FIELD,
            said(
                "how much load {material} loses over time at {T} is not known; ask the wire maker, "
                "or test",
                **_named(model),
            ),
        )
    return note(
        "relaxation",
        _FIELD,
        said(
            "{material} loses {loss} of its load in {hours} h at {T} under {share} of its tensile "
            "strength in shear ({source})",
            loss=q.percent(loss, 3),
            hours=q.number(table.hours, 6),
            **_named(model),
            share=q.percent(100 * table.stress_share, 3),
            source=word(table.source),
        ),
    )

"""What the service temperature does to the wire: moduli, strength, service limits, relaxation.

Every figure is the material's own, with its source; what no source at hand gives is said to be
not known, and the figure at 20 degC is used in its place.
"""

from __future__ import annotations

from collections.abc import Iterator

from springgeo.errors import SpecError
from springgeo.findings import Finding, error, note
from springgeo.materials.schema import Sourced
from springgeo.results.summary import Sourced as SourcedValue
from springgeo.results.summary import TemperatureFacts
from springgeo.spring.model import SpringModel

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


def require_limits(model: SpringModel) -> None:
    """Raise SpecError where the service temperature is beyond what the wire is used at."""
    m, T = model.material, model.spec.service.temperature
    high, low = m.data.temperature_limit_degC, m.data.temperature_minimum_degC
    cure = "choose another material, or give a material file of your own with its limit"
    if high is not None and high.value < T:
        words = f"{T:g} degC is above {high.value:g} degC, the limit of {m.title} ({high.source})"
        raise SpecError(error("too-hot", _FIELD, f"{words}; {cure}"))
    if low is not None and low.value > T:
        words = f"{T:g} degC is below {low.value:g} degC, down to which {m.title} is used"
        raise SpecError(error("too-cold", _FIELD, f"{words} ({low.source}); {cure}"))


def temperature_findings(model: SpringModel) -> Iterator[Finding]:
    """Yield what is not known at the service temperature, or is lost there over time."""
    m, T = model.material, model.spec.service.temperature
    if ROOM[0] <= T <= ROOM[1]:
        return
    if m.data.modulus_loss_per_K is None:
        text = f"the moduli of {m.title} at {T:g} degC are not known; the rate is that at 20 degC"
        yield note("modulus-at-temperature-unknown", _FIELD, text)
    if m.strength_share(T) is None:
        yield note(
            "strength-at-temperature-unknown",
            _FIELD,
            f"the strength of {m.title} at {T:g} degC is not known; margins take that at 20 degC: "
            "ask the wire maker",
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
            f"how much load {m.title} loses over time at {T:g} degC is not known; ask the wire "
            "maker, or test",
        )
    return note(
        "relaxation",
        _FIELD,
        f"{m.title} loses {loss:.3g} % of its load in {table.hours:g} h at {T:g} degC under "
        f"{100 * table.stress_share:.3g} % of its tensile strength in shear ({table.source})",
    )

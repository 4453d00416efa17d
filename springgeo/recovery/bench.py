"""Loads at lengths join the shape: rate and tension from the bench, material by elimination."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from os import PathLike
from typing import Any

from springgeo.findings import Finding, by_severity, note, warning
from springgeo.measure import Measured, measure, read_readings
from springgeo.measure.bench_head import Said
from springgeo.recovery.result import Recovered
from springgeo.recovery.value import Z95
from springgeo.specification.change import changed
from springgeo.specification.load import spec_of
from springgeo.text import quantity as q
from springgeo.text.shown import said

# no reading of a shape is surer than this, mm and coils
_LEAST, _LEAST_COILS = 0.002, 0.002


def with_readings(
    found: Recovered,
    path: str | PathLike[str],
    bench: str | PathLike[str] | None = None,
    columns: Said = Said(),  # noqa: B008 - a constant
) -> Recovered:
    """Return the spring with rate, tension and material from readings of load at length.

    Parameters
    ----------
    found : Recovered
    path : path
        Readings as `springgeo.measure` takes them; what they do not say of the shape is taken
        from the part.
    bench : path, optional
        The CSV of a test-bench run.
    columns : Said
        What is known of its columns.

    Raises
    ------
    FileError, SpecError
        The readings cannot be read, or are too few.
    """
    readings = read_readings(path, bench, columns, _known(found))
    measured = measure(readings)
    changes, told = _changes(found, measured)
    spec = changed(spec_of(found.specification), changes)
    kept = [f for f in found.findings if f.code != "material-unknown"]
    if "body.pitch" in changes:
        kept = [f for f in kept if f.code != "open-or-stretched"]
    return replace(
        found,
        specification=spec.model_dump(mode="json", exclude_none=True, exclude_defaults=True)
        | {"name": spec.name},
        measured=measured,
        findings=by_severity([*kept, *told, *measured.findings]),
    )


def _known(found: Recovered) -> dict[str, Any]:
    """Return the readings that the shape stands for."""
    v = found.values
    ends = found.specification["ends"]
    return {
        "name": found.name,
        "wire_diameter": v["wire_diameter"].value,
        "outer_diameter": v["mean_diameter"].value + v["wire_diameter"].value,
        "coils": v["coils"].value,
        "free_length": v["free_length"].value,
        "calliper": max(v["wire_diameter"].uncertainty / Z95, _LEAST),
        "coils_uncertainty": max(v["coils"].uncertainty / Z95, _LEAST_COILS),
        "hooks": [ends["first"], ends["second"]],
    }


def _changes(found: Recovered, m: Measured) -> tuple[dict[str, Any], list[Finding]]:
    material = m.likely[0].material if m.likely else None
    changes: dict[str, Any] = {}
    if material is not None:
        changes["wire.material"] = material
    told = list(_material(m))
    tension = m.line.tension
    if found.state == "wound solid":
        changes["body.initial_tension"] = float(f"{m.tension.value:.6g}")
        return changes, told
    opened = found.values["gap"].value * found.values["coils"].value
    if tension.low > 0:
        # it pushed back at the length it was scanned at: held stretched, and closed when free
        left = max(tension.value - m.line.rate.value * opened, 0.0)
        changes["body.pitch"] = None
        changes["body.initial_tension"] = float(f"{left:.6g}")
        told.append(
            note(
                "was-stretched",
                "body",
                said(
                    "at the length scanned it pulled with {load}: it was held stretched by "
                    "{opened}; written with touching coils and the tension that is left",
                    load=q.force(tension.value, 4),
                    opened=q.length(opened, 3),
                ),
            )
        )
    else:
        told.append(note("wound-open", "body", "it had no load at the length scanned: wound open"))
    return changes, told


def _material(m: Measured) -> Iterator[Finding]:
    if not m.likely:
        yield warning(
            "material-unknown",
            "wire.material",
            "no wire of the library has the shear modulus that rate and shape give",
        )
        return
    names = ", ".join(x.material for x in m.likely)
    text = f"by the shear modulus it may be: {names}; the first was taken"
    yield note("material-by-elimination", "wire.material", text)

"""Wire sizes that can be bought: preferred series and gauges."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import Literal

import numpy as np
from pydantic import Field

from springgeo.errors import refused
from springgeo.findings import nearest
from springgeo.materials.material_file import Positive, Sourced
from springgeo.materials.tensile import Array
from springgeo.text.safe_yaml import parse_own
from springgeo.units import FACTORS

_FIELD = "wire.diameter"


class _Series(Sourced):
    title: str
    length: Literal["mm", "in"]
    sizes: tuple[Positive, ...] = ()
    gauges: dict[str, Positive] = Field(default_factory=dict)

    def millimetres(self) -> Array:
        values = self.sizes or tuple(self.gauges.values())
        return np.sort(np.array(values) * FACTORS["length"][self.length])


@cache
def _all() -> dict[str, _Series]:
    text = files("springgeo.materials").joinpath("data", "wire_sizes.yaml").read_text("utf-8")
    return {name: _Series.model_validate(row) for name, row in parse_own(text).items()}


def _get(name: str) -> _Series:
    if name not in _all():
        text = f"'{str(name)[:60]}' is not a series of wire sizes; {nearest(name, _all())}"
        raise refused("unknown-size-series", _FIELD, text)
    return _all()[name]


def series_names() -> list[str]:
    """Return the names of the series."""
    return sorted(_all())


def series(name: str) -> Array:
    """Return the sizes of a series, mm, ascending.

    Raises
    ------
    SpecError
        No such series.
    """
    return _get(name).millimetres()


def gauge(name: str, label: str | int) -> float:
    """Return the diameter of a gauge number such as ``6/0`` or ``12``, mm.

    A series ending in ``-gauge`` may be named without it: ``gauge("music-wire", 12)``.

    Raises
    ------
    SpecError
        No such series, it has no gauge numbers, or not this one.
    """
    full = f"{name}-gauge"
    found = _get(full if full in _all() else name)
    key = str(label).strip()
    if not found.gauges:
        text = f"series '{name}' has no gauge numbers; give the diameter"
        raise refused("unknown-gauge", _FIELD, text)
    if key not in found.gauges:
        labels = list(found.gauges)
        text = f"'{key[:20]}' is not a gauge of {found.title}; use {labels[0]} to {labels[-1]}"
        raise refused("unknown-gauge", _FIELD, text)
    return found.gauges[key] * FACTORS["length"][found.length]


def looks_like_inches(d: float) -> bool:
    """Return whether ``d`` mm is no metric size, but the same figure in inches is a gauge's.

    Parameters
    ----------
    d : float
        Wire diameter, mm.
    """
    metric = [s for s in _all().values() if s.length == "mm"]
    if any(np.isclose(s.millimetres(), d, rtol=1e-6).any() for s in metric):
        return False
    gauges = [np.array(list(s.gauges.values())) for s in _all().values() if s.gauges]
    return any(bool(np.isclose(values, d, rtol=1e-6).any()) for values in gauges)

"""Changes some values of a spring, every combination of them, and tells what follows."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Mapping
from typing import Any, Literal

import numpy as np

from springgeo.api import Spring
from springgeo.errors import SpecError
from springgeo.findings import error
from springgeo.specification import Spec
from springgeo.specification.change import changed
from springgeo.spring.model import SpringModel
from springgeo.summary.handbook import Handbook
from springgeo.summary.wire import AlongWire
from springgeo.sweeping.table import Table

Method = Literal["handbook", "along-the-wire"]
LARGEST = 1_000_000
PLACES = {
    "body_shear": "body",
    "hook_bending": "hook_bending",
    "hook_torsion": "hook_torsion",
}


def sweep(
    spring: Spring | Spec,
    vary: Mapping[str, Iterable[object]],
    *,
    method: Method = "handbook",
    load: float | None = None,
) -> Table:
    """Return a table with a row for every combination of values.

    Columns, in mm, N, N/mm, MPa, kg: the keys of ``vary``, then ``index``, ``wire_diameter``,
    ``mean_diameter``, ``body_coils``, ``free_length``, ``wire_length``, ``mass``, ``rate``,
    ``initial_tension``, ``initial_stress``, and at the load ``load``, ``length``, ``body_shear``,
    ``hook_bending``, ``hook_torsion``, ``margin_body``, ``margin_hook_bending``,
    ``margin_hook_torsion``, ``margin`` (the least of them), NaN where there is no such place or no
    load. ``problem`` is a text: empty, or why there is no such spring, whose numbers are NaN then.

    Parameters
    ----------
    spring : Spring or Spec
    vary : mapping of str to iterable
        Values by dotted key, such as ``{"body.coils": range(10, 40)}``; see
        ``springgeo.specification.change``.
    method : {"handbook", "along-the-wire"}
        Whose rate, stresses and margins; the length at the load is by the handbook's straight
        line or by the load curve. The handbook's take a tenth of the time, but whether the
        wire would pass through itself is then not looked at.
    load : float, optional
        N; the highest working point of each specification if left out.

    Raises
    ------
    SpecError
        ``vary`` is empty, has too many combinations, or the load is not one.
    """
    spec = spring if isinstance(spring, Spec) else spring.spec
    lists = {key: list(values) for key, values in vary.items()}
    count = math.prod(map(len, lists.values())) if lists else 0
    if not 0 < count <= LARGEST:
        text = f"gives {count} rows; name keys with values, for 1 to {LARGEST} combinations"
        raise SpecError(error("bad-sweep", "vary", text))
    if method not in ("handbook", "along-the-wire"):
        text = f"'{str(method)[:40]}' is not known; use handbook or along-the-wire"
        raise SpecError(error("bad-sweep", "method", text))
    if load is not None and not 0 < load < math.inf:
        raise SpecError(error("bad-sweep", "load", f"{load} N is not a finite load above zero"))
    rows = [
        _row(spec, dict(zip(lists, values, strict=True)), method, load)
        for values in itertools.product(*lists.values())
    ]
    keys = {key: _column(values) for key, values in zip(lists, _turned(lists), strict=True)}
    names = [*COLUMNS, "problem"]
    return Table(keys | {name: np.array([row[name] for row in rows]) for name in names})


COLUMNS = (
    "index",
    "wire_diameter",
    "mean_diameter",
    "body_coils",
    "free_length",
    "wire_length",
    "mass",
    "rate",
    "initial_tension",
    "initial_stress",
    "load",
    "length",
    *PLACES,
    *(f"margin_{short}" for short in PLACES.values()),
    "margin",
)
_NOTHING = dict.fromkeys(COLUMNS, math.nan)


def _row(spec: Spec, values: dict[str, Any], method: Method, load: float | None) -> dict[str, Any]:
    try:
        model = SpringModel.of(changed(spec, values), look=method != "handbook")
        return _NOTHING | _facts(model, method, load) | {"problem": ""}
    except SpecError as exc:
        return _NOTHING | {"problem": exc.findings[0].line()}


def _facts(model: SpringModel, method: Method, load: float | None) -> dict[str, float]:
    g, body, book = model.geometry, model.body, Handbook(model)
    along = AlongWire(book) if method == "along-the-wire" else None
    found = {
        "index": body.index,
        "wire_diameter": body.wire_diameter,
        "mean_diameter": body.mean_diameter,
        "body_coils": g.turns,
        "free_length": g.length,
        "wire_length": g.path.length,
        "mass": math.pi * body.wire_diameter**2 / 4 * g.path.length * model.material.density,
        "rate": book.rate if along is None else along.rate,
        "initial_tension": book.initial_tension.force,
        "initial_stress": book.initial_tension.stress,
    }
    if load is None:
        load = _highest(book)
    if load is None:
        return found
    straight = g.length + book.straight_deflection(load)
    point = book.point(load, straight) if along is None else along.point(load)
    found |= {"load": load, "length": point.length} | _numbers(point, {k: k for k in PLACES})
    margins = _numbers(point.margin, {k: f"margin_{v}" for k, v in PLACES.items()})
    return found | margins | {"margin": min(margins.values(), default=math.nan)}


def _highest(book: Handbook) -> float | None:
    service = book.model.spec.service
    if service.lengths or service.spectrum:
        return book.points[-1].load
    return max(service.loads, default=None)


def _numbers(of: object, names: Mapping[str, str]) -> dict[str, float]:
    return {new: value for old, new in names.items() if (value := getattr(of, old)) is not None}


def _turned(lists: dict[str, list[object]]) -> list[tuple[object, ...]]:
    return list(zip(*itertools.product(*lists.values()), strict=True))


def _column(values: tuple[object, ...]) -> np.ndarray[Any, Any]:
    """Return values as numbers or texts where they all are, else as objects."""
    if all(isinstance(v, int | float | str) for v in values) and len(set(map(type, values))) == 1:
        return np.array(values)
    column = np.empty(len(values), dtype=object)
    column[:] = values
    return column

"""Wire by gauge number: ``18 mwg`` of the music wire gauge, ``18 swg`` of the steel wire gauge.

``18 ga`` alone names a row of neither: which table is meant, the material says, or nobody.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from springgeo.errors import SpecError, refused
from springgeo.materials import sizes
from springgeo.materials.library import get

TABLES = {"mwg": "music-wire-gauge", "swg": "steel-wire-gauge"}
_GAUGE = re.compile(
    r"(?:no\.?|#)?\s*(\d{1,2}|0{3,7}|[2-7]/0)\s*-?\s*(ga\.?|gauge|gage|mwg|swg)", re.IGNORECASE
)
_FIELD = "wire.diameter"


def is_gauge(value: object) -> bool:
    """Return whether a value is written as a gauge number: ``18 ga``, ``6/0 mwg``."""
    return isinstance(value, str) and len(value) < 30 and bool(_GAUGE.fullmatch(value.strip()))


def diameter(text: str, material: str | Mapping[str, Any] | None = None) -> float:
    """Return the wire diameter of a gauge number, mm.

    Parameters
    ----------
    text : str
        For which `is_gauge` holds.
    material : optional
        What `springgeo.materials.get` takes; it says what table a bare ``ga`` means.

    Raises
    ------
    SpecError
        No such gauge; or a bare ``ga`` and the material leaves open which table is meant.
    """
    found = _GAUGE.fullmatch(text.strip())
    assert found is not None
    number, word = found[1], found[2].lower()
    label = f"{len(number)}/0" if re.fullmatch("00+", number) else number.lstrip("0") or "0"
    table = TABLES.get(word)
    if table is None and material is not None:
        table = get(material if isinstance(material, Mapping) else str(material)).gauge_table
    if table is None:
        raise refused("gauge-ambiguous", _FIELD, _choices(text, label))
    return sizes.gauge(table, label)


def _choices(text: str, label: str) -> str:
    found = []
    for word, table in TABLES.items():
        try:
            found.append(f"'{label} {word}' ({sizes.gauge(table, label):.4g} mm)")
        except SpecError:
            continue
    choices = " or ".join(found) or "the diameter in mm or in"
    return f"'{text.strip()[:20]}' does not say which wire gauge; write {choices}"

"""Springs that are examined: any ends and parameters, hands and units, loads below the tension.

Seeded. A spring is one that can be made and that its loads do not overstress.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from springgeo import Spring, SpringgeoError
from springgeo.summary.handbook import Handbook
from tests.stability.drawn import specification
from tests.stability.wild import Random, pick

# how far up to the handbook's allowable springs are loaded
MOST = 0.85


def drawn(
    rng: Random, *, styles: Sequence[str] | None = None, coils: float = 20.0, lengths: bool = True
) -> dict[str, Any]:
    """Return a specification with loads below and above its initial tension, or with lengths."""
    for _ in range(200):
        two = None if styles is None else (str(pick(rng, styles)), str(pick(rng, styles)))
        data = specification(rng, styles=two, coils=coils)
        data.pop("mating", None)
        warm = data.get("service", {}).get("temperature", 20.0)
        data["service"] = {}
        data["name"] = "examined"
        if rng.random() < 0.3:
            data["units"] = "inch"
        try:
            # coils far apart press with less than a number can hold
            with np.errstate(all="raise", under="ignore"):
                return _loaded(rng, data, warm if rng.random() < 0.3 else 20.0, lengths=lengths)
        except (SpringgeoError, _TooWeakError):
            continue
    raise AssertionError("none of two hundred springs can be loaded")


class _TooWeakError(Exception):
    """A spring whose initial tension nearly overstresses it."""


def _loaded(rng: Random, data: dict[str, Any], warm: Any, *, lengths: bool) -> dict[str, Any]:
    book = Handbook(Spring.from_dict(data).model)
    tension = float(book.initial_tension.force)
    margins = book.point(max(tension, 1.0), float(book.L_0)).margin
    most = max(tension, 1.0) * min(m for m in _values(margins) if m is not None)
    if most * MOST < 1.5 * tension:
        raise _TooWeakError
    top = float(rng.uniform(max(1.2 * tension, 0.2 * most), most * MOST))
    loads = [float(rng.uniform(0.2, 0.95)) * tension] if tension and rng.random() < 0.5 else []
    loads += [float(rng.uniform(1.1 * tension, top)), top]
    service: dict[str, Any] = {"temperature": warm}
    if lengths and rng.random() < 0.35:
        curve = book.curve
        above = [x for x in loads if x > tension]
        service["lengths"] = [curve.length(x) for x in above]
        if len(loads) > len(above):
            service["loads"] = loads[:1]
    else:
        service["loads"] = [float(x) for x in rng.permutation(loads)]
    if rng.random() < 0.4:
        service |= {"duty": "cyclic", "cycles": float(10 ** rng.uniform(2, 8))}
    data["service"] = service
    Spring.from_dict(data)
    return data


def _values(margins: Any) -> list[float | None]:
    return [margins.body_shear, margins.hook_bending, margins.hook_torsion]

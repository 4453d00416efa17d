"""Where a hook is stressed most, in bending and in torsion, at each end of the wire."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.message import Message
from springgeo.statics import WireStress
from springgeo.statics.regions import REGIONS
from springgeo.summary.wire import PLACES, SEARCHED
from springgeo.text.shown import word


@dataclass(frozen=True)
class Mark:
    """Where a hook is stressed most: in bending (``A``) or torsion (``B``); MPa, mm."""

    side: str
    point: str
    kind: str
    stress: float
    s: float
    label: str

    @property
    def words(self) -> Message:
        """What is written beside the mark."""
        return word("bending") if self.point == "A" else word("torsion")


def marks(w: WireStress) -> tuple[Mark, ...]:
    """Return where hook bending and hook torsion along the wire are greatest at each end.

    Searched where the summary's verdict searches.
    """
    middle = (w.s[0] + w.s[-1]) / 2
    found = []
    for side, half in (("first", w.s <= middle), ("second", w.s > middle)):
        for point in ("A", "B"):
            kind = PLACES[point][1]
            regions = [REGIONS.index(r) for r in SEARCHED[point]]
            rows = np.flatnonzero(half & np.isin(w.region, regions))
            # a plain end has coil next to its cut, but no hook
            hook = half & (w.region == REGIONS.index("A" if point == "A" else "B"))
            if not len(rows) or not hook.any():
                continue
            values = getattr(w.stress, kind)
            i = int(rows[np.argmax(values[rows])])
            label = w.labels[w.index[i]]
            found.append(Mark(side, point, kind, float(values[i]), float(w.s[i]), label))
    return tuple(found)

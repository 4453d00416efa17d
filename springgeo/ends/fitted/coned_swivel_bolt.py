r"""Coned end holding a swivel bolt.

```
         | |
         | |          bolt: the shank goes on, for a nut of its diameter
       (=====)        head inside the cone
     ===========
```
The length inside hooks counts to the bolt's outer end. Its thread is not modelled: the shank has
the thread's outer diameter. Guaranteed for index ≥ 5, 2 to 5 coils in the cone, end diameter
0.5 D to 0.7 D. Common practice, no standard.
"""

from __future__ import annotations

from dataclasses import replace

from springgeo.ends.fitted import coned, threads
from springgeo.ends.fitted.coned import Beyond, Cone, Coned
from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.ends.shared.written_out import written_out
from springgeo.specification.making import Line
from springgeo.specification.quantity import Length


class ConedSwivelBolt(Coned):
    """Lengths in mm.

    ``coils`` in the cone (3), ``end_diameter`` mean diameter of the last of them (half the
    body's, at least an index of 3.2), ``thread`` of the bolt by its standard name (the coarse one
    nearest to a wire diameter less than the last coil's inside, metric, or UNC with
    ``units: inch``) or ``shank_diameter`` outside it, ``shank_length`` from the last coil to the
    bolt's outer end (D).
    """

    thread: Line | None = None
    shank_length: Length | None = None


def _beyond(_p: ConedSwivelBolt, _c: Cone, _end: BodyEnd) -> Beyond:
    return None, 0.0, 0.0, ()


def shape(p: ConedSwivelBolt, end: BodyEnd) -> EndShape:
    """Return the cone and its swivel bolt."""
    length = 2 * end.coil_radius if p.shank_length is None else p.shank_length
    usual = coned.cone(p.model_copy(update={"shank_diameter": None}), end)
    span = 0.5 * end.wire_diameter, coned.widest_shank(usual.coil, end.wire_diameter)
    shank, thread = threads.chosen(
        p, "shank_diameter", usual.shank, span, "to what turns freely in the last coil"
    )
    sizes = {"shank_length": length, "shank_diameter": shank}
    made = coned.swivel(p.model_copy(update=sizes), end, _beyond)
    said = {k: v for k, v in made.built.items() if k != "shank_diameter"}
    return replace(made, built={**said, **threads.built("shank_diameter", shank, thread)})


END = written_out(
    shape,
    "coned end with swivel bolt",
    "The last coils close to a cone that holds a bolt, free to turn: no hook stress.",
    coned.ranges,
    holds_load=False,
    by_units=threads.by_units("shank_diameter"),
)

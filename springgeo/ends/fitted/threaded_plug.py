r"""Screwed-in threaded plug: a plug inside the last coils, with a collar and a stud.

```
         | |          stud
       _____          collar on the last coil
     (|=====|)
     (|=====|)        plug, held by three to four coils
     ===========
```
The length inside hooks counts to the collar's outer face. The plug stands at the root of its
thread, just inside the coils; the thread's ridge between them and the stud's own thread are not
modelled. Coils on the plug count in all coils, not in the active ones (EN 13906-2, screwed-in
ends). Guaranteed for index ≥ 4, 2 to 6 coils. The plug's proportions are common practice; the
load at which it pulls out must be proven by test.
"""

from __future__ import annotations

from springgeo.ends.fitted import screwed_in, threads
from springgeo.ends.protocol import BodyEnd, EndShape
from springgeo.ends.shared import limits
from springgeo.fittings import Part, Turned
from springgeo.specification.making import Line
from springgeo.specification.quantity import Length


class ThreadedPlug(screwed_in.ScrewedIn):
    """Lengths in mm.

    ``coils`` on the plug (3.5), ``thread`` of the stud by its standard name (M10, 3/8-16 UNC; the
    coarse one nearest to half the coil's inside diameter, metric, or UNC with ``units: inch``) or
    ``stud_diameter`` outside it, ``stud_length`` beyond the collar (D), ``collar_thickness``
    (1.5 d).
    """

    thread: Line | None = None
    stud_diameter: Length | None = None
    stud_length: Length | None = None
    collar_thickness: Length | None = None


def shape(p: ThreadedPlug, end: BodyEnd) -> EndShape:
    """Return the held coils and the plug."""
    d, (held, coil) = end.wire_diameter, screwed_in.coils(p.coils, end)
    root = held.coil_radius - d / 2 - screwed_in.PLAY * d
    stud, thread = threads.chosen(
        p, "stud_diameter", root, (min(d, 0.5 * root), 2 * root), "to the plug's root"
    )
    beyond = limits.between(
        "stud_length",
        2 * held.coil_radius if p.stud_length is None else p.stud_length,
        0.1 * d,
        20 * held.coil_radius,
        "from a tenth of a wire diameter to ten coil diameters",
        "choose a length within it",
    )
    thick = limits.between(
        "collar_thickness",
        1.5 * d if p.collar_thickness is None else p.collar_thickness,
        0.1 * d,
        4 * held.coil_radius,
        "from a tenth of a wire diameter to twice the coil's",
        "choose a thickness within it",
    )
    seat = coil.turns * coil.pitch + d / 2 + screwed_in.PLAY * d
    collar = held.coil_radius + d / 2
    profile = (
        (root, 0.0),
        (root, seat),
        (collar, seat),
        (collar, seat + thick),
        (stud / 2, seat + thick),
        (stud / 2, seat + thick + beyond),
    )
    sizes = (
        ("root diameter", 2 * root),
        ("collar diameter", 2 * collar),
        ("collar thickness", thick),
        ("stud diameter", stud),
        ("stud length", beyond),
    )
    return screwed_in.end_shape(
        held,
        coil,
        end,
        Part("plug", Turned(profile), sizes=sizes),
        above=seat + thick,
        reach=beyond,
        built={
            **threads.built("stud_diameter", stud, thread),
            "stud_length": beyond,
            "collar_thickness": thick,
        },
    )


END = screwed_in.style(
    shape,
    "screwed-in threaded plug",
    "A plug with collar and stud, screwed into the last coils: no hook stress.",
    4,
    lambda d, r: {
        "stud_diameter": (d, 1.2 * r),
        "stud_length": (0.5 * r, 4 * r),
        "collar_thickness": (0.5 * d, 2 * d),
    },
    threads.by_units("stud_diameter"),
)

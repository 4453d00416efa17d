r"""Coned end holding a swivel hook.

```
        .-.
       (   '          hook bent from the shank, free to turn
        '|
       (===)          head inside the cone
     =========
```
Guaranteed for index ≥ 5, 2 to 5 coils in the cone, end diameter 0.5 D to 0.7 D, hook 1.6 shanks to
1.5 D inside. Common practice, no standard.
"""

from __future__ import annotations

from springgeo.ends.fitted import swivel_loop
from springgeo.ends.fitted.coned import Coned
from springgeo.ends.shared.sketch import sketch_in
from springgeo.specification.quantity import Length


class ConedSwivelHook(Coned):
    """Lengths in mm.

    ``coils`` in the cone (3), ``end_diameter`` mean diameter of the last of them (half the
    body's, at least an index of 3.2), ``shank_diameter`` of the swivel (a wire diameter less
    than the last coil's inside), ``shank_length`` from the last coil on (0.75 d),
    ``hook_diameter`` inside (0.6 D less the shank, at least 1.6 shanks).
    """

    hook_diameter: Length | None = None


END = swivel_loop.style(
    "hook",
    "The last coils close to a cone that holds a hook, free to turn: no hook stress.",
    swivel_loop.hook,
    ConedSwivelHook,
    sketch_in(__doc__),
)

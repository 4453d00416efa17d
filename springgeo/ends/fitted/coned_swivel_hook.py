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
from springgeo.ends.shared.sketch import sketch_in

END = swivel_loop.style(
    "hook",
    "The last coils close to a cone that holds a hook, free to turn: no hook stress.",
    swivel_loop.hook,
    sketch_in(__doc__),
)

r"""Coned end holding a swivel hook.

```
        .-.
       (   '          hook bent from the shank, free to turn
        '|
       (===)          head inside the cone
     =========
```
"""

from __future__ import annotations

from springgeo.ends.fitted import swivel_loop

END = swivel_loop.style("a", "hook", swivel_loop.hook, __doc__)

r"""Coned end holding a swivel eye.

```
        .-.
       ( o )          eye bent from the shank, free to turn
        '|'
       (===)          head inside the cone
     =========
```
"""

from __future__ import annotations

from springgeo.ends.fitted import swivel_loop

END = swivel_loop.style("an", "eye", swivel_loop.eye, __doc__)

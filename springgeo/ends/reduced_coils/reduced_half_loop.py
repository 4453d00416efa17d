r"""Machine half loop on reduced end coils ("reduced loop to centre").

```
        .-'-.
       |     |          half loop as wide as the last coil
       '     |
       ======+
      ==========        three coils of falling diameter
    ==============
```
Guaranteed for index ≥ 5, 2 to 6 coils, end diameter 0.6 D to 0.85 D.
"""

from springgeo.ends.over_centre import machine_half_loop
from springgeo.ends.reduced_coils import reduced
from springgeo.ends.shared.sketch import sketch_in

END = reduced.style(
    machine_half_loop.END,
    "reduced-half-loop",
    "machine half loop on reduced end coils",
    "The last coils fall in diameter and carry an open half loop: less stress in the hook.",
    sketch_in(__doc__),
)

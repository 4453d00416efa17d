r"""Full loop on reduced end coils: the classic way to lower the stress in the hook.

```
         .-.
        (   )           full twisted loop as wide as the last coil
         '-.__
        ======+
      ==========        three coils of falling diameter
    ==============
```
The bending moment at point A is the load times r1: reducing the end to 0.7 of the body takes
about 30 % off it. Guaranteed for index ≥ 5, 2 to 6 coils, end diameter 0.6 D to 0.85 D.
"""

from springgeo.ends.over_centre import full_twisted_loop
from springgeo.ends.reduced_coils import reduced
from springgeo.ends.shared.sketch import sketch_in

END = reduced.style(
    full_twisted_loop.END,
    "reduced-full-loop",
    "full loop on reduced end coils",
    "The last coils fall in diameter and carry a full loop: less stress in the hook.",
    sketch_in(__doc__),
)

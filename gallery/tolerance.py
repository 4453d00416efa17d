"""How springs come out whose dimensions stray: loads against their limits, and what costs most."""

from __future__ import annotations

from pathlib import Path

from shown import note

from springgeo import Spring
from springgeo.plots.tolerance import write_plot

SPEC = {
    "name": "damper return spring",
    "wire": {"material": "astm-a228", "diameter": 1.2},
    "body": {"mean_diameter": 9.6, "coils": 18.5, "initial_tension": 7},
    "ends": {"first": {"style": "full-twisted-loop"}, "second": {"style": "machine-half-loop"}},
    "service": {"loads": [15, 25]},
    "tolerances": {"loads": "5 %"},
}


def main(out: Path | None = None) -> None:
    spring = Spring.from_dict(SPEC)
    found = spring.tolerance()
    # what is inside both limits is no more than what is inside the worse of them
    assert found.inside <= (found.spreads[found.worst].inside or 0.0)
    out = out or Path(__file__).with_suffix(".png")
    write_plot(found, out)
    note(out, spring)


if __name__ == "__main__":
    main()

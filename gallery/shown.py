"""Which numbers the gallery's pictures show, so that one that has gone stale is noticed.

A script that draws a spring over the gallery's own picture notes here what is told of that spring
then; ``tests/gallery`` compares it with what is told today.
"""

from __future__ import annotations

import json
from pathlib import Path

from springgeo import Spring

HERE = Path(__file__).parent
NOTED = HERE / "shown.json"


def told(spring: Spring) -> dict[str, float]:
    """Return numbers of a spring such as pictures show, to five digits; mm, N, N/mm, MPa."""
    s = spring.summary()
    found = {
        "free length": s.geometry.free_length,
        "initial tension": s.initial_tension.force,
        "rate": s.rate,
        "rate along the wire": s.along_the_wire.rate,
        "mass": s.geometry.mass,
    }
    for point in s.along_the_wire.points:
        at = f"at {point.load:g}"
        found |= {f"length {at}": point.length, f"von Mises {at}": point.von_mises}
    return {key: float(f"{value:.5g}") for key, value in found.items()}


def note(picture: Path, spring: Spring) -> None:
    """Note what a picture shows, if it is one of the gallery's own."""
    if picture.resolve().parent != HERE.resolve():
        return
    noted = json.loads(NOTED.read_text()) if NOTED.exists() else {}
    noted[picture.name] = told(spring)
    NOTED.write_text(json.dumps(noted, indent=2, sort_keys=True) + "\n")

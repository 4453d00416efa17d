"""Solids written as STEP and read back, free and loaded: ``python -m tests.stability.solids``.

Trial n has style n modulo their number at one end, so that every fitted end has its turn; the
state is free, or at a load up to the limit.
"""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np

from springgeo import Spring
from springgeo.ends import registry
from springgeo.errors import SpringgeoError
from springgeo.state import State
from tests.springs import asked

from .drawn import specification
from .trials import main
from .wild import Random, pick

VOLUME, BOX = 1e-6, 1e-5
COILS, TRIES = 12.0, 40


def spring_with(name: str, rng: Random) -> Spring:
    """Return the first spring of a row that can be made with a style at one of its ends."""
    for _ in range(TRIES):
        other = str(pick(rng, registry.names()))
        styles = (name, other) if rng.random() < 0.5 else (other, name)
        data = specification(rng, styles=styles, coils=COILS)
        data.pop("mating", None)
        data["service"] = {}
        try:
            spring = Spring.from_dict(data)
            spring.summary()
        except SpringgeoError:
            continue
        return spring
    raise AssertionError(f"no spring with {name} in {TRIES} tries")


def trial(seed: int, folder: Path) -> bool:
    """Write one solid and read it back."""
    rng = np.random.default_rng([8, seed])
    names = registry.names()
    spring = spring_with(names[seed % len(names)], rng)
    loaded = seed // len(names) % 2 == 1
    load = asked(spring).pull.travel_stop_load * float(rng.uniform(0.05, 1))
    try:
        state = spring.at(load=load) if loaded else spring.at(length=spring.free_length)
    except SpringgeoError as exc:
        raise AssertionError(f"builds free, but not at {load} N: {exc}") from None
    require_solid(state, folder / f"{seed}.step")
    return True


def require_solid(state: State, place: Path) -> None:
    """Raise AssertionError where a state's STEP file reads back as another shape."""
    from springgeo.files.step.document import StepPart
    from springgeo.files.step.read import read_step
    from springgeo.files.step.write import write_step
    from springgeo.solid import exact_box, is_closed, is_valid, solids, volume

    g, held = state.geometry, state.parts()
    parts = {"spring": state.solid(), **held}
    write_step(
        place,
        [StepPart(name, solid.wrapped) for name, solid in parts.items()],
        product="spring",
        description="",
        attributes={},
    )
    found = solids(read_step(place).shape)
    place.unlink()
    assert len(found) == 1 + len(g.parts), f"{len(found)} solids"
    assert all(is_closed(s) and is_valid(s) for s in found), "not valid"
    exact = [math.pi * g.wire_diameter**2 / 4 * g.path.length, *(p.volume for p in g.parts)]
    for name, here, there in zip(parts, sorted(map(volume, found)), sorted(exact), strict=True):
        assert abs(here / there - 1) <= VOLUME, f"volume {here} instead of {there} ({name})"
    boxes = np.array([exact_box(s) for s in found])
    whole = np.array([boxes[:, 0].min(axis=0), boxes[:, 1].max(axis=0)])
    off = float(np.abs(whole - state.box).max())
    assert off <= BOX * g.wire_diameter, f"box off by {off / g.wire_diameter:.3g} d"


if __name__ == "__main__":
    main("solids", trial)

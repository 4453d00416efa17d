"""Bad numbers, units and words in a specification: refused by name, nothing written."""

from __future__ import annotations

from pathlib import Path

import pytest

from .conftest import Command
from .refused import refuse, spoilt

D, MEAN, COILS = "diameter: 1.2 mm", "mean_diameter: 9.6 mm", "coils: 18.5"
LOADS, MATERIAL = "[15 N, 30 N]", "astm-a228"
A, B = "{style: full-twisted-loop}", "{style: machine-half-loop}"

# (place, spoilt, what stderr must say)
CASES = [
    # units
    (D, "diameter: 1.2 N", "wire.diameter: '1.2 N' is a force"),
    (D, "diameter: 1.2 furlong", "unit 'furlong' is not known"),
    (D, "diameter: 1.2 MM", "unit 'MM' is not known here"),
    (D, "diameter: 1.2 mm mm", "unit 'mm mm'"),
    (D, "diameter: 1;2 mm", "wire.diameter"),
    (COILS, "coils: 18 mm", "body.coils: '18 mm' is a length"),
    (LOADS, "[15 mm]", "service.loads.0: '15 mm' is a length"),
    (LOADS, "[15 N, 3 MPa]", "service.loads.1: '3 MPa' is a stress"),
    # not numbers
    (D, "diameter: .nan", "wire.diameter: nan is not a finite number"),
    (D, "diameter: .inf", "wire.diameter: inf is not a finite number"),
    (D, "diameter: -.inf", "wire.diameter"),
    (D, "diameter: nan mm", "wire.diameter: needs a length"),
    (COILS, "coils: .nan", "body.coils"),
    (COILS, "coils: .inf", "body.coils"),
    (LOADS, "[.inf]", "service.loads.0"),
    (
        D,
        "diameter:",
        "wire.diameter: needs a length such as '1.2 mm' or '0.047 in', not nothing (empty)",
    ),
    (D, "diameter: thick", "not 'thick'"),
    (D, "diameter: [1.2]", "not a list or mapping"),
    (D, "diameter: {mm: 1.2}", "not a list or mapping"),
    (D, "diameter: yes", "wire.diameter"),
    (D, "diameter: 2001-01-01", "wire.diameter"),
    # sizes
    (D, "diameter: 1e308", "is above the limit 20 mm; reduce it"),
    (D, "diameter: 1e308 m", "not a finite number"),
    (D, "diameter: 1e-308", "is below the limit 0.05 mm; raise it"),
    (D, "diameter: 0", "0 mm is below the limit 0.05 mm"),
    (D, "diameter: -1.2 mm", "-1.2 mm is below the limit 0.05 mm"),
    (D, "diameter: 25 mm", "25 mm is above the limit 20 mm"),
    (D, "diameter: 9.6 mm", "index 1 (mean diameter 9.6 mm over wire 9.6 mm) is below"),
    (MEAN, "mean_diameter: 0", "body.mean_diameter: 0 must be above zero"),
    (MEAN, "mean_diameter: -9.6 mm", "body.mean_diameter: -9.6 must be above zero"),
    (MEAN, "mean_diameter: 1e308", "index"),
    (MEAN, "mean_diameter: 40 mm", "above the limit 25; reduce the coil diameter"),
    (MEAN, "outer_diameter: 1 mm", "index -0.1667"),
    (MEAN, "index: 2.9", "below the limit 3; raise the coil diameter"),
    (COILS, "coils: 0", "body.coils: 0 is below the limit 2"),
    (COILS, "coils: -5", "body.coils: -5 is below the limit 2"),
    (COILS, "coils: 1000000000", "body.coils: 1e+09 is above the limit 500; reduce it"),
    (COILS, "coils: 1" + "0" * 30, "body.coils: 1e+30 is above the limit 500"),
    (COILS, "coils: 1" + "0" * 400, "body.coils: a huge integer is not a finite number"),
    (COILS, "coils: 1" + "0" * 5000, "a number of 5001 digits is not readable here"),
    (LOADS, "[-5 N]", "service.loads: -5 N is below the limit 0 N"),
    (LOADS, "[1e300]", "service.loads"),
    (LOADS, "[" + "1, " * 99 + "1]", "more than 50 entries"),
    (LOADS, "15", "service.loads: needs a list, for example [25 N, 40 N]"),
    (LOADS, "[1], lengths: [0]", "service.lengths: 0 mm is below the limit 0.001 mm; raise it"),
    (LOADS, "[1], temperature: -300", "-300 degC is below the limit -273.15 degC"),
    (LOADS, "[1], duty: cyclic", "needs cycles"),
    (LOADS, "[1], duty: weekly", "'weekly' is not known; use one of: cyclic, infinite, static"),
    # forms
    (MEAN, f"{MEAN}, outer_diameter: 10.8 mm", "mean_diameter and outer_diameter both"),
    (MEAN, f"{MEAN}, index: 8", "mean_diameter and index both"),
    (MEAN + ", ", "", "give one of: mean_diameter, outer_diameter, inner_diameter, index"),
    (COILS, f"{COILS}, pitch: 2, initial_tension: 3", "initial tension needs touching coils"),
    (COILS, f"{COILS}, pitch: 0.5 mm", "pitch"),
    # words
    (MATERIAL, "astm-a229x", "did you mean 'astm-a229'"),
    (MATERIAL, "unobtainium", "unobtainium"),
    (MATERIAL, "../../../etc/passwd", "wire.material"),
    ("material: astm-a228", "materiel: x", "wire.materiel: is not a key here; did you mean 'm"),
    ("service:", "servise:", "servise: is not a key here; did you mean 'service'?"),
    ("body: {", "bdy: {", "body: is missing; add it"),
    (A, "{style: full-twisted-lop}", "did you mean 'full-twisted-loop'"),
    (A, "{style: 3}", "ends.first.style: needs a text"),
    (A, "{}", "ends.first.style: is missing; add it"),
    (A, "full-twisted-lop", "did you mean 'full-twisted-loop'"),
    (A, "[plain]", "ends.first: needs a mapping"),
    (A, "{style: full-twisted-loop, radius: 3}", "ends.first.radius: is not a key here"),
    (A, "{style: plain, bend_radius: 3}", "ends.first.bend_radius"),
    (A, "{style: raised-hook, bend_radius: 3 N}", "ends.first.bend_radius: '3 N' is a force"),
    (B, B + "\n  angle: 400 deg", "400 deg is more than a full turn"),
    (B, B + "\n  angle: north", "ends.angle: needs a"),
]


@pytest.mark.parametrize(("old", "new", "words"), CASES, ids=lambda v: v[:30])
def test_refused(springgeo: Command, tmp_path: Path, old: str, new: str, words: str) -> None:
    assert words in refuse(springgeo, tmp_path, spoilt(old, new))


# (end, what stderr must say): hooks that cannot be bent from this coil, d 1.2 mm and D 9.6 mm
HOOKS = [
    ("full-twisted-loop, bend_radius: 0.5 mm", "0.5 mm is below the wire diameter 1.2 mm"),
    ("full-twisted-loop, bend_radius: 5 mm", "5 mm is above 4.8 mm"),
    ("full-twisted-loop, loop_radius: 6 mm", "6 mm is above 4.8 mm"),
    ("full-twisted-loop, hook_length: 50 mm", "50 mm is above 28.8 mm"),
    ("full-twisted-loop, opening: -1 mm", "-1 mm is below 0.12 mm"),
    ("machine-half-loop, bend_radius: 6 mm", "6 mm is above 4.8 mm"),
    ("machine-half-loop, hook_length: 2 mm", "2 mm is below"),
    ("machine-half-loop, hook_length: 1e9 m", "is above 96 mm"),
    ("machine-half-loop, leg: 2, hook_length: 9", "leg and hook_length say the same thing"),
    ("machine-half-loop, leg: -2", "-2 mm is below 0 mm"),
    ("machine-half-loop, opening: 40 mm", "40 mm is above"),
    ("raised-hook, hook_length: 4 mm", "4 mm is below"),
    ("raised-hook, hook_length: 1e300", "is above 96 mm"),
    ("raised-hook, loop_radius: 0.5 mm", "0.5 mm is below 1.2 mm"),
    ("raised-hook, opening: 0.01 mm", "0.01 mm is below"),
    ("short-twisted-loop, bend_radius: 3 mm", "3 mm is above 2.16 mm"),
    ("short-twisted-loop, rise_radius: 9 mm", "9 mm is above 4.32 mm"),
    ("short-twisted-loop, hook_length: 30 mm", "30 mm does not suit this loop"),
    ("short-twisted-loop, hook_length: 1e308", "is above 96 mm"),
]


@pytest.mark.parametrize(("hook", "words"), HOOKS, ids=lambda v: v[:40])
@pytest.mark.parametrize("side", ["first", "second"])
def test_hooks_that_cannot_be_bent(
    springgeo: Command, tmp_path: Path, side: str, hook: str, words: str
) -> None:
    place = A if side == "first" else B
    err = refuse(springgeo, tmp_path, spoilt(place, "{style: " + hook + "}"))
    assert words in err
    assert err.startswith(f"springgeo: ends.{side}.")


def test_wire_that_would_pass_through_itself(springgeo: Command, tmp_path: Path) -> None:
    """A short loop closed almost onto the body meets its own bend."""
    hook = "{style: short-twisted-loop, bend_radius: 1.98, rise_radius: 2.93, opening: 0.31}"
    err = refuse(springgeo, tmp_path, spoilt(A, hook))
    assert "springgeo: ends.first: the wire of first end, " in err
    assert "less than its diameter 1.2 mm" in err

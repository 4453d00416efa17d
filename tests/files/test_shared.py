"""Entities that say the same are written once, and the file says the same as before."""

from __future__ import annotations

import re

import numpy as np

from springgeo.curve import Path
from springgeo.files.step.shared import shared
from springgeo.solid import tube_solid
from tests.files.part21 import entities
from tests.fittings.springs import spring

DATA = """\
#1 = CARTESIAN_POINT('',(0.,0.,1.));
#2 = CARTESIAN_POINT('',(0.,0.,
  1.));
#3 = DIRECTION('',(0.,1.));
#4 = DIRECTION('',(0.,1.));
#5 = VECTOR('',#4,1.);
#6 = VECTOR('',#3,1.);
#7 = LINE('',#8,#6);
#8 = CARTESIAN_POINT('',(0.,0.));
#9 = PRODUCT('not #2; nor
 #4','',(#2,#6));
#10 = ( GEOMETRIC_REPRESENTATION_CONTEXT(2)
PARAMETRIC_REPRESENTATION_CONTEXT() );
#11 = ( GEOMETRIC_REPRESENTATION_CONTEXT(2)
PARAMETRIC_REPRESENTATION_CONTEXT() );
#12 = DEFINITIONAL_REPRESENTATION('',(#7),#11);
#13 = CARTESIAN_POINT('named',(0.,0.,1.));
ENDSEC;
END-ISO-10303-21;
"""
WANTED = """\
#1=CARTESIAN_POINT('',(0.,0.,1.));
#3=DIRECTION('',(0.,1.));
#5=VECTOR('',#3,1.);
#7=LINE('',#8,#5);
#8=CARTESIAN_POINT('',(0.,0.));
#9=PRODUCT('not #2; nor
 #4','',(#1,#5));
#10=( GEOMETRIC_REPRESENTATION_CONTEXT(2)PARAMETRIC_REPRESENTATION_CONTEXT() );
#12=DEFINITIONAL_REPRESENTATION('',(#7),#10);
#13=CARTESIAN_POINT('named',(0.,0.,1.));
ENDSEC;
END-ISO-10303-21;
"""


def test_equal_ones_are_kept_once_and_strings_untouched() -> None:
    assert shared(DATA) == WANTED
    assert shared("ENDSEC;\n") == "ENDSEC;\n"


def test_no_point_of_a_built_file_is_there_twice_and_none_is_missing(built) -> None:
    text = (built / "test-spring.step").read_text("ascii")
    found = entities(text)
    points = [said for said, _ in found.values() if said.startswith("CARTESIAN_POINT(''")]
    assert len(points) > 1000
    own = [p for p in points if len(re.findall(",", p)) > 2]
    # a mate frame's origin, written by ourselves, may be one of the shape's points
    assert len(own) - len(set(own)) <= 2
    assert all(number in found for _, refs in found.values() for number in refs)


def path(coils: float) -> Path:
    return spring("machine-half-loop", "machine-half-loop", coils=coils).centreline


def test_two_hundred_coils_are_half_of_what_they_were(tmp_path) -> None:
    """They took 6.6 MB before one turn was one polynomial and every point written once."""
    from springgeo.files.step.write import Attribute, StepPart, write_step

    part = StepPart("spring", tube_solid(path(200.0), 0.5))
    target = tmp_path / "long.step"
    write_step(target, [part], product="p", description="d", attributes={"k": Attribute(1)})
    assert target.stat().st_size < 3.3e6
    said = (text for text, _ in entities(target.read_text("ascii")).values())
    found = [
        re.findall(r"[-+.\dE]+(?=[,)])", t) for t in said if t.startswith("CARTESIAN_POINT('',")
    ]
    points = np.array([p for p in found if len(p) == 3], dtype=float)
    assert len(points) > 30_000
    # faces meet in the same points to the last digit; one vertex a face is nearly one of them
    assert len(points) - len(np.unique(points.round(6), axis=0)) < 220

"""The sections of a calculation note, one function each, in their order."""

from springgeo.note.sections import closing, duty, given, shape, strength

SECTIONS = (
    given.job,
    given.assumptions,
    given.material,
    shape.geometry,
    shape.rate,
    strength.strength,
    strength.pull,
    duty.cycle,
    duty.dynamics,
    closing.findings,
    closing.cautions,
    closing.sources,
)

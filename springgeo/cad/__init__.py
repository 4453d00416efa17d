"""CadQuery's side of a spring: solids, mate frames, assemblies, one Workplane method.

>>> import springgeo as sg
>>> from springgeo import cad
>>> spring = sg.Spring.from_preset("gate-latch")
>>> whole = cad.assembly(spring)
>>> sorted(cad.frames(spring))
['axis', 'end_a', 'end_b']

In an editor with a viewer: ``show_object(cad.assembly(spring, spring.at(load=20)))``.
"""

from springgeo.cad.assembly import assembly, poses, seated_solid, tagged
from springgeo.cad.bridge import hand_over, wrapped
from springgeo.cad.distance import kernel_clearance, overlap_volume
from springgeo.cad.frames import frames
from springgeo.cad.solids import part_solid, solid
from springgeo.cad.workplane import register

__all__ = [
    "assembly",
    "frames",
    "hand_over",
    "kernel_clearance",
    "overlap_volume",
    "part_solid",
    "poses",
    "register",
    "seated_solid",
    "solid",
    "tagged",
    "wrapped",
]

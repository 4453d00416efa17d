"""CadQuery's side of a spring: solids, mate frames, assemblies, one Workplane method.

>>> import springgeo as sg
>>> from springgeo import cad
>>> spring = sg.Spring.from_preset("gate-latch")
>>> whole = cad.assembly(spring)
>>> sorted(cad.frames(spring))
['axis', 'first_end', 'second_end']

The same lines show something in CQ-editor and in a notebook, and do nothing elsewhere:

>>> if "show_object" in globals():  # an editor with a viewer
...     show_object(whole, name="spring on its pins")
>>> whole  # doctest: +SKIP

The last line, alone in a cell of Jupyter, draws the assembly there.
"""

from springgeo.cad.assembly import assembly, motion_poses, poses, seated_solid, tagged
from springgeo.cad.bridge import hand_over, wrapped
from springgeo.cad.distance import kernel_clearance, overlap_volume
from springgeo.cad.frames import frames
from springgeo.cad.obstacle import SolidObstacle
from springgeo.cad.solids import part_solid, solid
from springgeo.cad.step import write_assembly
from springgeo.cad.workplane import register

__all__ = [
    "SolidObstacle",
    "assembly",
    "frames",
    "hand_over",
    "kernel_clearance",
    "motion_poses",
    "overlap_volume",
    "part_solid",
    "poses",
    "register",
    "seated_solid",
    "solid",
    "tagged",
    "wrapped",
    "write_assembly",
]

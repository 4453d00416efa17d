"""A spring as STEP: the solid with its summary as user-defined attributes."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt

from springgeo.files.publish.detail import hook_paths
from springgeo.files.publish.exporter import ExportJob, data_text
from springgeo.files.step.attributes import Attribute
from springgeo.files.step.dimension.spring import spring_dimensions
from springgeo.files.step.document import StepPart
from springgeo.files.step.material import StepMaterial
from springgeo.files.step.write import write_step
from springgeo.fit.frames import mate_frames
from springgeo.solid import exact_box, tube_properties, tube_solid, volume
from springgeo.summary import Summary
from springgeo.text.json_value import Json

# the key that holds the whole summary as JSON; the others are for people and other programs
KEY = "springgeo-summary"
# the key that says which shape the file holds: state, volume, box
SHAPE = "springgeo-shape"
_STEEL, _FITTING = (0.62, 0.64, 0.67), (0.45, 0.50, 0.58)
_UNITS = dict.fromkeys(("body_coils", "total_coils", "index", "hand"), "")
_UNITS |= {"mass": "kg", "loop_angle": "deg"}


def write_step_summary(target: Path, job: ExportJob) -> None:
    """Write the solid with every value of the summary; raises FileError."""
    s, g = job.summary, job.geometry
    envelope = job.detail == "envelope"
    parts = [*(_envelope(job) if envelope else [_wire(job)]), *_fittings(job)]
    free = job.state.name == "free" and not envelope
    facts = _envelope_facts(job, parts) if envelope else job.tube_facts()
    write_step(
        target,
        parts,
        product=s.name,
        description=f"{description(s)}; {job.caption}".removesuffix("; "),
        attributes=dict(attributes_of(s))
        | {KEY: Attribute(job.summary_text, ""), SHAPE: Attribute(data_text(facts))},
        frames=mate_frames(g),
        material=StepMaterial(s.material.title, 1000 * s.material.density),
        # a loaded shape is not what is made
        dimensions=spring_dimensions(job.model, s) if free else (),
    )


def _wire(job: ExportJob) -> StepPart:
    properties = tube_properties(job.geometry.path, job.geometry.wire_diameter / 2)
    return StepPart("spring", job.solid, _STEEL, properties)


def _fittings(job: ExportJob) -> list[StepPart]:
    """Return what fitted ends hold, as parts of their own."""
    return [StepPart(name, shape, _FITTING) for name, shape in job.parts.items()]


def _envelope(job: ExportJob) -> list[StepPart]:
    """Return a plain cylinder over the body, and the wire of the hooks."""
    g = job.geometry
    low, high = g.body_faces
    radius = g.coil_radius + g.wire_diameter / 2
    axis = gp_Ax2(gp_Pnt(0.0, 0.0, low), gp_Dir(0.0, 0.0, 1.0))
    body = BRepPrimAPI_MakeCylinder(axis, radius, high - low).Solid()
    hooks = [tube_solid(path, g.wire_diameter / 2) for path in hook_paths(g)]
    return [
        StepPart("body", body, _STEEL),
        *(StepPart(f"hook {i}", hook, _STEEL) for i, hook in enumerate(hooks, 1)),
    ]


def _envelope_facts(job: ExportJob, parts: list[StepPart]) -> dict[str, Json]:
    boxes = np.array([exact_box(part.shape) for part in parts])
    box = [boxes[:, 0].min(axis=0).tolist(), boxes[:, 1].max(axis=0).tolist()]
    return job.shape_facts(sum(volume(part.shape) for part in parts), box)


def description(s: Summary) -> str:
    """Return the header's one line: what it is and what it withstands."""
    g = s.geometry
    words = (
        f"extension spring, d {g.wire_diameter:.5g} mm, D {g.mean_diameter:.5g} mm, "
        f"{g.body_coils:.5g} coils, L0 {g.free_length:.6g} mm inside hooks, rate "
        f"{s.rate:.5g} N/mm, initial tension {s.initial_tension.force:.5g} N"
    )
    return words if s.verdict is None else f"{words}; {s.verdict.words}"


def attributes_of(s: Summary) -> Iterator[tuple[str, Attribute]]:
    """Yield the summary's values as attributes, for people and other programs."""
    for name, value in s.geometry.model_dump().items():
        if value is not None:
            yield name, Attribute(value, _UNITS.get(name, "mm"))
    yield "rate", Attribute(s.rate, "N/mm")
    yield "rate_along_the_wire", Attribute(s.along_the_wire.rate, "N/mm")
    if s.rates.between_points is not None:
        yield "rate_between_points", Attribute(s.rates.between_points, "N/mm")
    yield "initial_tension", Attribute(s.initial_tension.force, "N")
    yield "initial_stress", Attribute(s.initial_tension.stress, "MPa")
    yield "tensile_strength", Attribute(s.material.tensile_strength, "MPa")
    for i, (p, w) in enumerate(zip(s.points, s.along_the_wire.points, strict=True), 1):
        yield f"load_{i}", Attribute(p.load, "N")
        yield f"length_{i}", Attribute(p.length, "mm")
        for name in ("body_shear", "hook_bending", "hook_torsion"):
            stress, margin = getattr(p, name), getattr(p.margin, name)
            if stress is not None and margin is not None:
                yield f"{name}_{i}", Attribute(stress, "MPa")
                yield f"{name}_{i}_along_the_wire", Attribute(getattr(w, name), "MPa")
                yield f"margin_{name}_{i}", Attribute(margin, "")
    for i, there in enumerate(s.mounted, 1 + len(s.points) - len(s.mounted)):
        yield f"load_{i}_as_mounted", Attribute(there.load, "N")
        yield f"length_{i}_as_mounted", Attribute(there.length, "mm")
        for name in ("body_shear", "hook_bending", "hook_torsion"):
            stress, margin = getattr(there, name), getattr(there.margin, name)
            if stress is not None and margin is not None:
                yield f"{name}_{i}_as_mounted", Attribute(stress, "MPa")
                yield f"margin_{name}_{i}_as_mounted", Attribute(margin, "")
    yield "caution", Attribute(" ".join(s.cautions), "")

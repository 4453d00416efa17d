"""From a spring and its states to one 3MF plate."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from typing import Any

from springgeo.curve.frame import Array
from springgeo.files.formats.threemf import SHAPE, SUMMARY
from springgeo.files.formats.threemf_package import Item, package
from springgeo.files.publish.bundle import NamedState
from springgeo.files.publish.exporter import SHAPE_SCHEMA, StateFacts, data_text
from springgeo.files.publish.naming import file_stem
from springgeo.findings import Finding, by_severity
from springgeo.mesh import Mesh, part_mesh, tube_mesh
from springgeo.prototype.advice import CAUTION, bed_findings, findings, orientation
from springgeo.prototype.dummy import dummy_parts
from springgeo.prototype.opened import opened
from springgeo.prototype.options import Options
from springgeo.prototype.plate import FLAT, arranged, box_of, laid
from springgeo.spring.geometry import Geometry
from springgeo.spring.model import SpringModel
from springgeo.summary import Summary
from springgeo.text.json_value import Json

# chord error as printed, mm: below what a printer resolves
CHORD = 0.02


@dataclass(frozen=True, eq=False)
class Print:
    """One print on the plate: mm³ and mm as printed; parts that overlap count twice."""

    name: str
    volume: float
    size: tuple[float, float, float]


@dataclass(frozen=True, eq=False)
class Prototype:
    """A plate ready to be written, and what to know about it."""

    options: Options
    items: tuple[Item, ...]
    prints: tuple[Print, ...]
    findings: tuple[Finding, ...]
    orientation: str
    caution: str
    box: Array

    def document(self) -> dict[str, Any]:
        """Return everything but the triangles, mm."""
        return {
            "schema_version": "springgeo-prototype/1",
            "caution": self.caution,
            "options": asdict(self.options),
            "prints": [asdict(p) for p in self.prints],
            "plate": (self.box[1] - self.box[0]).tolist(),
            "orientation": self.orientation,
            "findings": [f.model_dump() for f in self.findings],
        }

    def shape_facts(self) -> dict[str, Json]:
        """Return what the plate says of its own shape, for `springgeo inspect`: mm, mm³."""
        return {
            "schema_version": SHAPE_SCHEMA,
            "state": "prototype",
            "detail": "dummy" if self.options.dummy else "coils opened to print",
            "volume": sum(p.volume for p in self.prints),
            "box": self.box.tolist(),
            "caution": self.caution,
        }

    def threemf(self, summary: Summary) -> bytes:
        """Return the plate as a 3MF file with the spring's summary; the caution comes first."""
        metadata = {
            "Title": f"{summary.name}, prototype for shape and fit only",
            "Description": f"{self.caution} {self.orientation}",
            "Application": "springgeo",
        }
        attachments = {
            SUMMARY: summary.json_text(None),
            SHAPE: data_text(self.shape_facts()),
            "springgeo-prototype.json": data_text(self.document()),
        }
        return package(self.items, metadata, attachments)


def prototype(model: SpringModel, options: Options, states: Sequence[NamedState] = ()) -> Prototype:
    """Return a plate with one print per state, the free spring if none is given.

    Raises
    ------
    SpecError
        An end cannot be made on opened coils, or the triangles are too many.
    """
    g = model.geometry
    shown = list(states) or [NamedState(StateFacts("free", 0.0, g.length), g)]
    stem, laid_out, found = file_stem(model.spec.name), [], []
    for state in shown:
        printed = _printed(model, state.geometry, options)
        found += list(findings(state.geometry, printed, options))
        flat = FLAT * printed.wire_diameter * options.scale if options.flat else 0.0
        parts = laid(_parts(printed, options), options.scale, flat)
        laid_out.append((f"{stem} {state.facts.name}", parts))
    items = arranged(laid_out)
    prints = tuple(_print(item) for item in items)
    box = box_of([mesh for item in items for _, mesh in item.parts])
    x, y, z = (box[1] - box[0]).tolist()
    found += list(bed_findings((x, y, z), [(p.name, p.size) for p in prints], options))
    return Prototype(
        options,
        tuple(items),
        prints,
        by_severity(found),
        orientation(options),
        CAUTION,
        box,
    )


def _printed(model: SpringModel, state: Geometry, o: Options) -> Geometry:
    return state if o.dummy else opened(model, state, o.print_gap / o.scale)


def _parts(g: Geometry, o: Options) -> list[tuple[str, Mesh]]:
    chord = min(CHORD / o.scale, 0.05 * g.wire_diameter)
    parts = [(part.name, part_mesh(part, chord)) for part in g.parts]
    if o.dummy:
        return [*dummy_parts(g, chord), *parts]
    return [("wire", tube_mesh(g.path, g.wire_diameter / 2, chord)), *parts]


def _print(item: Item) -> Print:
    meshes = [mesh for _, mesh in item.parts]
    x, y, z = (float(v) for v in box_of(meshes)[1] - box_of(meshes)[0])
    return Print(item.name, sum(m.volume for m in meshes), (x, y, z))

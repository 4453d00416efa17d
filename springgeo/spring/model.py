"""A validated specification turned into numbers: material, ends, centreline, findings."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from pydantic import ValidationError

from springgeo import materials
from springgeo.curve import Approach, body_approach, hook_approach
from springgeo.ends import registry
from springgeo.ends.protocol import BodyEnd, Turning
from springgeo.errors import SpecError, refused
from springgeo.findings import Finding
from springgeo.materials import Material
from springgeo.message import Message
from springgeo.specification import EndChoice, ResolvedBody, Spec
from springgeo.specification.body import COIL_CLEARANCE
from springgeo.specification.end_names import SIDES
from springgeo.specification.problems import findings_of
from springgeo.spring.by_units import as_decided
from springgeo.spring.end import End
from springgeo.spring.geometry import Geometry, assemble, turns_for_angle
from springgeo.text import quantity as q
from springgeo.text.naming import piece_words
from springgeo.text.shown import said, word

__all__ = ["End", "SpringModel"]


@dataclass(frozen=True)
class SpringModel:
    """Everything that follows from the specification before any load acts."""

    spec: Spec
    material: Material
    body: ResolvedBody
    first: End
    second: End
    geometry: Geometry
    # the file as its author wrote it, where there was one
    text: str | None = None

    @classmethod
    def of(cls, spec: Spec, text: str | None = None, *, look: bool = True) -> SpringModel:
        """Return the model of a specification, which may have been read from a ``text``.

        Without a ``look`` it is not examined whether the wire would pass through itself.

        Raises
        ------
        SpecError
            An end style or material is unknown, an end cannot be made on this body, or the wire
            would pass through itself.
        """
        material = materials.get(spec.wire.material)
        spec = as_decided(_self_contained(spec, material))
        body = spec.body.resolve(spec.wire.diameter)
        a, b = _end("first", spec.ends.first), _end("second", spec.ends.second)
        body_end = BodyEnd(body.wire_diameter, body.coil_radius, body.pitch)
        shapes = a.shape(body_end), b.shape(body_end)
        turns = body.coils
        wanted, whole = spec.ends.angle, False
        if spec.ends.facing is not None:
            wanted, whole = spec.ends.facing, True
        if wanted is not None and None not in (s.azimuth for s in shapes):
            turns = turns_for_angle(turns, wanted, body.hand, *shapes, whole=whole)
        shape = assemble(body_end, turns, body.hand, *shapes)
        model = cls(spec, material, body, a, b, shape, text)
        if look:
            model.require_clear_wire()
        return model

    @property
    def turning(self) -> tuple[Turning, Turning]:
        """What turning either end is left: as it is mounted, else as its style says."""
        mating = self.spec.mating
        mates = (None, None) if mating is None else (mating.first, mating.second)
        a, b = (
            end.style.turning if mate is None or mate.holding is None else mate.holding
            for end, mate in zip((self.first, self.second), mates, strict=True)
        )
        return a, b

    @property
    def measured_turning(self) -> tuple[Turning, Turning]:
        """What turning either end is left where springs are measured: as its style says."""
        return self.first.style.turning, self.second.style.turning

    @property
    def turns(self) -> float:
        """Body coils as built."""
        return self.geometry.turns

    @cached_property
    def hook_approach(self) -> Approach | None:
        """Nearest approach of hook wire to any other wire, within two diameters."""
        return hook_approach(self.geometry.path, self.body.wire_diameter)

    @cached_property
    def body_approach(self) -> Approach | None:
        """Nearest approach of the body's turns."""
        return body_approach(self.geometry.path)

    def require_clear_wire(self) -> None:
        """Raise SpecError if hook wire comes nearer to other wire than one diameter."""
        near, d = self.hook_approach, self.body.wire_diameter
        if near is None or near.distance >= d * (1 - 1e-9):
            return
        here, there = (piece_words(label) for label in near.labels)
        side = next(s for label in near.labels for s in SIDES if label.startswith(f"{s}."))
        raise refused(
            "wire-meets-itself",
            f"ends.{side}",
            said(
                "the wire of {here} would pass within {near} of {there}, {less} less than its "
                "diameter {wire}; {cure}",
                here=here,
                **q.lengths(4, near=near.distance, wire=d),
                there=there,
                less=q.length(d - near.distance, 2),
                cure=self._remedy,
            ),
        )

    @property
    def _remedy(self) -> Message:
        wanted = self.spec.body.coil_clearance
        if wanted is not None and wanted < COIL_CLEARANCE:
            return said(
                "leave coil_clearance at {clearance}, so that bends clear the coil below",
                clearance=q.number(COIL_CLEARANCE),
            )
        return word("enlarge the opening, hook_length or index, or reduce bend_radius")


def _self_contained(spec: Spec, material: Material) -> Spec:
    """Return the specification with a user's own material by its content, not its file's path."""
    if spec.wire.material in materials.names():
        return spec
    wire = spec.wire.model_copy(update={"material": material.content})
    return spec.model_copy(update={"wire": wire})


def _end(side: str, choice: EndChoice) -> End:
    try:
        style = registry.get(choice.style)
        try:
            parameters = registry.parameters(style, choice.parameters)
        except ValidationError as exc:
            raise SpecError(findings_of(exc, style.parameters)) from None
    except SpecError as exc:
        raise SpecError(_under(f"ends.{side}", f) for f in exc.findings) from None
    numbers = [v for _, v in parameters if isinstance(v, float)]
    if any(not math.isfinite(v) for v in numbers):
        raise refused("bad-value", f"ends.{side}", "needs finite numbers")
    return End(side, style, parameters)


def _under(prefix: str, finding: Finding) -> Finding:
    return finding.model_copy(update={"field": f"{prefix}.{finding.field}"})

"""An end of the spring as chosen: its style and parameters, and the wire they make."""

from __future__ import annotations

from dataclasses import dataclass, replace

from springgeo.curve.slivers import SLIVER, without_slivers
from springgeo.ends.protocol import BodyEnd, EndParameters, EndShape, EndStyle
from springgeo.errors import SpecError


@dataclass(frozen=True)
class End:
    """One end of the spring: its style and the parameters as validated."""

    side: str
    style: EndStyle
    parameters: EndParameters

    def shape(self, body_end: BodyEnd) -> EndShape:
        """Return the wire; errors are named after the field in the specification."""
        try:
            shape = self.style.shape(self.parameters, body_end)
        except SpecError as exc:
            raise SpecError(
                f.model_copy(update={"field": f"ends.{self.side}.{f.field}"}) for f in exc.findings
            ) from None
        pieces = without_slivers(shape.pieces, SLIVER * body_end.wire_diameter)
        if len(pieces) == len(shape.pieces):
            return shape
        whole = sum(p.segment.length for p in pieces)
        contact, grip = (
            None if s is None else min(s, whole) for s in (shape.contact_s, shape.grip_s)
        )
        return replace(shape, pieces=pieces, contact_s=contact, grip_s=grip)

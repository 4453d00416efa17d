"""An end of the spring as chosen, and as bent: what a load leaves of it as it was."""

from __future__ import annotations

from dataclasses import dataclass, replace

from springgeo.ends.protocol import BodyEnd, EndParameters, EndShape, EndStyle
from springgeo.errors import SpecError

# share of the wire diameter by which a style is asked whether it takes up wire
_PROBE = 1e-3


@dataclass(frozen=True)
class End:
    """One end of the spring: its style and the parameters as validated."""

    side: str
    style: EndStyle
    parameters: EndParameters

    def shape(self, body_end: BodyEnd) -> EndShape:
        """Return the wire; errors are named after the field in the specification."""
        try:
            return self.style.shape(self.parameters, body_end)
        except SpecError as exc:
            raise SpecError(
                f.model_copy(update={"field": f"ends.{self.side}.{f.field}"}) for f in exc.findings
            ) from None


@dataclass(frozen=True, eq=False)
class BentEnd:
    """An end with the radii of its free shape written into its parameters.

    Attributes
    ----------
    end : End
    free : EndShape
    takes_up : bool
        Whether wire that the bend gives up lengthens this end (``BodyEnd.stretch``).
    """

    end: End
    free: EndShape
    takes_up: bool

    @classmethod
    def of(cls, end: End, free: EndShape, body_end: BodyEnd) -> BentEnd:
        """Return the end as bent on a free body."""
        held = {
            name: getattr(free, name)
            for name in end.style.keeps
            if name in type(end.parameters).model_fields
            and getattr(end.parameters, name) is None
            and getattr(free, name) is not None
        }
        kept = replace(end, parameters=end.parameters.model_copy(update=held))
        longer = replace(body_end, stretch=_PROBE * body_end.diameter)
        try:
            takes_up = span(kept.shape(longer)) != span(kept.shape(body_end))
        except SpecError:
            takes_up = True
        return cls(kept, free, takes_up)

    def like(self, other: BentEnd) -> bool:
        """Return whether both ends have the same shape under any load."""
        return self.end.style is other.end.style and self.end.parameters == other.end.parameters


def span(shape: EndShape) -> float:
    """Return the length of an end's wire, mm."""
    return sum(p.segment.length for p in shape.pieces)

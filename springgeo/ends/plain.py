"""Plain end: the coil is cut square and carries no hook."""

from __future__ import annotations

from springgeo.ends.protocol import BodyEnd, EndParameters, EndShape, EndStyle


class PlainEnd(EndParameters):
    """A plain end has no parameters."""


def shape(_parameters: PlainEnd, _end: BodyEnd) -> EndShape:
    """Return no wire at all: the body's own cut end."""
    return EndShape(pieces=(), hook_length=0.0)


END = EndStyle(
    name="plain",
    title="plain end",
    summary="Cut square, no hook: for ends held by a separate fitting.",
    sketch="   ==========]",
    parameters=PlainEnd,
    shape=shape,
    holds_load=False,
)

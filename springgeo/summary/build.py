"""From a model to its summary, before or after a solid was built."""

from __future__ import annotations

from collections.abc import Iterable

from springgeo.results.summary import Summary
from springgeo.results.verdict import Check
from springgeo.spring.model import SpringModel
from springgeo.summary.sections import SECTIONS, Sections


def summarise(
    model: SpringModel,
    checks: Iterable[Check] = (),
    solid_length: float | None = None,
) -> Summary:
    """Return the summary; ``solid_length`` is the free length read off a solid's box, mm.

    From a load curve of its own, so that the same model has the same bytes whatever states were
    asked for before.

    Raises
    ------
    SpecError
        The service temperature is beyond the limits of the wire, or a working point beyond what
        the wire can be drawn to.
    """
    every = Sections(model, checks, solid_length)
    return Summary(
        name=every.name,
        specification=every.specification,
        # what names an own material's file says nothing elsewhere
        specification_text=None if isinstance(model.spec.wire.material, dict) else model.text,
        findings=every.findings,
        **{key: every[key] for key in SECTIONS},
    )

"""Texts of data files that stand on page or sheet: names of materials, sources, remarks."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from springgeo import materials
from springgeo.materials.tensile import PowerLaw
from springgeo.trade.dimension_tolerance import tables
from springgeo.trade.load_tolerance import load_tolerance, rate_tolerance
from springgeo.trade.stress_relief import stress_relief, tension_loss


def data_texts() -> dict[str, str]:
    """Return every such text with the file it stands in."""
    found: dict[str, str] = {}
    for name in materials.names():
        for text in _material(materials.get(name).data):
            if re.search("[a-z]{3}", text):
                found.setdefault(text, name)
    for block in (*tables().values(), *_of_trade()):
        for key in ("source", "known"):
            if key in block:
                found.setdefault(block[key], "trade")
    return found


def _material(data: Any) -> Iterator[str]:
    yield data.title
    yield data.standard
    yield from (c.text for c in data.caveats)
    law = data.tensile
    # of a strength the page names the source where it is to be doubted
    if law is not None and (law.known == "from memory" or isinstance(law, PowerLaw)):
        yield law.source
    shown = ("temperature_limit_degC", "temperature_minimum_degC", "shear_modulus")
    for block in (*(getattr(data, name) for name in shown), data.relaxation, data.elastic_limits):
        if block is not None and (block.known == "from memory" or block is data.elastic_limits):
            yield block.source
            yield block.known
    if data.relaxation is not None:
        yield data.relaxation.source


def _of_trade() -> Iterator[dict[str, Any]]:
    # of the loads: one inside the table, and one beyond it
    of_loads = load_tolerance(6.0, 1.0, 50.0, 25.0), rate_tolerance()
    for found in (*map(stress_relief, materials.names()), tension_loss(), *of_loads):
        if found is not None:
            yield found._asdict()

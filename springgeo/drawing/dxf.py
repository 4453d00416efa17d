"""Writes a sheet as DXF: the spring at 1:1 in millimetres, with real dimension entities.

The sheet around it is enlarged or reduced by the drawing scale, so that it prints as the PDF
does when plotted at that scale.
"""

from __future__ import annotations

import io
from types import ModuleType
from typing import Any

from springgeo.drawing.arrows import labels_of
from springgeo.drawing.page import LAYERS, AngularDim, Line, LinearDim, Page, Text
from springgeo.optional import need

_CAPITAL = 2.5  # text height of dimensions, mm of paper
_MILLIMETRE = 4  # $INSUNITS


def dxf_bytes(page: Page) -> bytes:
    """Return a sheet as the contents of a DXF R2010 file, the same bytes for the same sheet."""
    ezdxf = need("ezdxf", "a drawing", "drawing")
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        doc = _document(ezdxf, page)
        doc.classes.classes = dict(sorted(doc.classes.classes.items(), key=lambda e: str(e[0])))
        out = io.StringIO()
        doc.write(out)
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before
    return out.getvalue().encode("utf-8")


def _document(ezdxf: ModuleType, page: Page) -> Any:
    doc = ezdxf.new("R2010", setup=False)
    doc.units = _MILLIMETRE
    doc.header["$MEASUREMENT"] = 1
    doc.header["$DIMLFAC"] = 1.0
    k = 1.0 / page.scale
    doc.styles.add("SHEET", font="DejaVuSans.ttf")
    dash = LAYERS["CENTRE"].dash
    pattern = [sum(dash) * k, *(v * k * (-1 if i % 2 else 1) for i, v in enumerate(dash))]
    doc.linetypes.add("CENTRE", pattern, description="centre line")
    for name, pen in LAYERS.items():
        layer = doc.layers.add(name, color=pen.colour, lineweight=round(100 * pen.width))
        if pen.dash:
            layer.dxf.linetype = "CENTRE"
    _dimension_style(doc, k)
    space = doc.modelspace()
    for line in page.lines:
        _line(space, line, k)
    for text in page.texts:
        _text(space, text, k)
    for linear in page.linear:
        _linear(space, linear, k)
    for angular in page.angular:
        _angular(space, angular, k)
    return doc


def _dimension_style(doc: Any, k: float) -> None:
    style = doc.dimstyles.add("SPRING")
    for name, value in {
        "dimlfac": 1.0,
        "dimscale": 1.0,
        "dimtxt": _CAPITAL * k,
        "dimasz": 2.5 * k,
        "dimexe": 1.5 * k,
        "dimexo": 0.0,
        "dimgap": 0.8 * k,
        "dimtad": 1,
        "dimdec": 2,
        "dimadec": 1,
        "dimzin": 8,
        "dimazin": 2,
        "dimdsep": ord("."),
        "dimtih": 0,
        "dimtoh": 0,
        "dimtxsty": "SHEET",
        "dimblk": "",
    }.items():
        style.set_dxf_attrib(name, value)


def _line(space: Any, line: Line, k: float) -> None:
    closed = bool((line.points[0] == line.points[-1]).all()) and len(line.points) > 2
    points = line.points[:-1] if closed else line.points
    space.add_lwpolyline((points * k).tolist(), close=closed, dxfattribs={"layer": line.layer})


def _text(space: Any, text: Text, k: float) -> None:
    entity = space.add_text(
        text.text,
        height=text.height * k,
        rotation=90 if text.turned else 0,
        dxfattribs={"layer": text.layer, "style": "SHEET"},
    )
    entity.dxf.halign = {"left": 0, "center": 1, "right": 2}[text.across]
    at = (text.at[0] * k, text.at[1] * k)
    entity.dxf.insert = at
    if text.across != "left":
        entity.dxf.align_point = at


def _linear(space: Any, dim: LinearDim, k: float) -> None:
    def at(point: tuple[float, float]) -> tuple[float, float]:
        return point[0] * k, point[1] * k

    axis = 1 if dim.upright else 0
    # across a break the entity's own measure would be too short
    drawn = abs((dim.end[axis] - dim.start[axis]) * k - dim.value) < 1e-6 * dim.value
    measured = drawn and _is_value(dim.shown, dim.value)
    override = space.add_linear_dim(
        base=at(dim.base),
        p1=at(dim.start),
        p2=at(dim.end),
        angle=90 if dim.upright else 0,
        text=dim.label if measured else dim.text,
        dimstyle="SPRING",
        override={"dimdec": len(dim.shown.partition(".")[2])} if measured else None,
        dxfattribs={"layer": "DIMENSION"},
    )
    first, *others = labels_of(dim)
    if dim.out:  # beside the arrows, where it was found to be clear
        x, y = first.at
        middle = (x - _CAPITAL / 2, y) if dim.upright else (x, y + _CAPITAL / 2)
        override.set_location(at(middle))
    override.render()
    override.dimension.dxf.actual_measurement = dim.value
    for other in others:
        _text(space, other, k)


def _is_value(shown: str, value: float) -> bool:
    """Return whether a text is the value in mm, rounded: what the entity would write itself."""
    try:
        return abs(float(shown) - value) < 0.0051
    except ValueError:
        return False


def _angular(space: Any, dim: AngularDim, k: float) -> None:
    override = space.add_angular_dim_cra(
        center=(dim.centre[0] * k, dim.centre[1] * k),
        radius=dim.radius * k,
        start_angle=dim.start,
        end_angle=dim.end,
        distance=0.0,
        dimstyle="SPRING",
        dxfattribs={"layer": "DIMENSION"},
    )
    override.render()

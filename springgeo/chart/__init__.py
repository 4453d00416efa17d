"""What a diagram shows, as plain data, and two ways to draw it: SVG and matplotlib.

>>> from springgeo.chart import Axis, Chart, Line, svg
>>> line = Line(((0.0, 0.0), (10.0, 25.0)), "wire", "along the wire")
>>> chart = Chart(Axis(0, 12, "length, mm"), Axis(0, 30, "load, N"), "Load over length", (line,))
>>> svg.drawing(chart)[:4]
'<svg'
"""

from springgeo.chart.model import (
    Area,
    Axis,
    Chart,
    Dots,
    Item,
    Label,
    Line,
    Marks,
    Point,
    Rule,
    Stripe,
    keys,
)

__all__ = [
    "Area",
    "Axis",
    "Chart",
    "Dots",
    "Item",
    "Label",
    "Line",
    "Marks",
    "Point",
    "Rule",
    "Stripe",
    "keys",
]

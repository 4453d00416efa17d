"""Diagrams of a spring: each a chart as plain data, and a function that draws it by matplotlib.

``load_length``, ``stress_along_wire``, ``initial_tension``, ``fatigue`` and ``tolerance`` take a
spring and return a figure, which a notebook shows; they need the extra ``plots``. The charts
themselves need nothing, and the report draws the same ones as SVG.
"""

from springgeo.plots.fatigue import fatigue
from springgeo.plots.initial_tension import initial_tension
from springgeo.plots.load_length import load_length
from springgeo.plots.stress_along_wire import stress_along_wire
from springgeo.plots.tolerance import tolerance

__all__ = ["fatigue", "initial_tension", "load_length", "stress_along_wire", "tolerance"]

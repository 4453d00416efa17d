"""Plots as functions that take a spring and return matplotlib axes. Needs the extra ``plots``."""

from springgeo.plots.fatigue import fatigue
from springgeo.plots.initial_tension import initial_tension
from springgeo.plots.load_length import load_length
from springgeo.plots.stress_along_wire import stress_along_wire

__all__ = ["fatigue", "initial_tension", "load_length", "stress_along_wire"]

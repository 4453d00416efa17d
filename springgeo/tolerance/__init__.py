"""What becomes of loads, rate and margins when every dimension strays as makers hold it.

Springs are drawn by their tolerances and answered by the handbook's closed form, times a
correction that is asked of the wire in equilibrium at a few of them (``response.py``).
"""

from springgeo.tolerance.facts import tolerance_facts

__all__ = ["tolerance_facts"]

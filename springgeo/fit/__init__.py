"""Does it fit: exact clearances between the wire and its mating parts, numpy alone.

>>> import springgeo as sg
>>> from springgeo.fit import Pin, EndMate, Mating, fit
>>> spring = sg.Spring.from_preset("gate-latch")
>>> fit(spring, Mating(first=EndMate(pin=Pin(diameter=7, length=20))), states=2).verdict
'fits'
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

# of the same names as their modules, so that these must not stand in their place
from springgeo.fit.clearance import Clearance, clearance
from springgeo.fit.mouth import Mouth, mouth
from springgeo.fit.swing import Swing, swing

if TYPE_CHECKING:
    from springgeo.fit.model import EndFit, FitReport, Gap, StateFit
    from springgeo.fit.obstacles import Cylinder, HalfSpace, HolePlate, Obstacle, Tube, Union
    from springgeo.fit.plot import plot_fit, write_plot
    from springgeo.fit.seat import Attached, EndFrame, end_frame, seated
    from springgeo.fit.state import state_fit
    from springgeo.fit.stroke import fit, mating_or_refused, safe_length
    from springgeo.fit.wire import Wire
    from springgeo.specification.mating import Around, Bore, EndMate, Mating, Pin, Plate, Rod, Stud

# a check needs the mouth of a hook alone: the rest is loaded when it is used
_HOME = {
    "springgeo.fit.model": ("EndFit", "FitReport", "Gap", "StateFit"),
    "springgeo.fit.obstacles": (
        "Cylinder",
        "HalfSpace",
        "HolePlate",
        "Obstacle",
        "Tube",
        "Union",
    ),
    "springgeo.fit.plot": ("plot_fit", "write_plot"),
    "springgeo.fit.seat": ("Attached", "EndFrame", "end_frame", "seated"),
    "springgeo.fit.state": ("state_fit",),
    "springgeo.fit.stroke": ("fit", "mating_or_refused", "safe_length"),
    "springgeo.fit.wire": ("Wire",),
    "springgeo.specification.mating": (
        "Around",
        "Bore",
        "EndMate",
        "Mating",
        "Pin",
        "Plate",
        "Rod",
        "Stud",
    ),
}

__all__ = [
    "Around",
    "Attached",
    "Bore",
    "Clearance",
    "Cylinder",
    "EndFit",
    "EndFrame",
    "EndMate",
    "FitReport",
    "Gap",
    "HalfSpace",
    "HolePlate",
    "Mating",
    "Mouth",
    "Obstacle",
    "Pin",
    "Plate",
    "Rod",
    "StateFit",
    "Stud",
    "Swing",
    "Tube",
    "Union",
    "Wire",
    "clearance",
    "end_frame",
    "fit",
    "mating_or_refused",
    "mouth",
    "plot_fit",
    "safe_length",
    "seated",
    "state_fit",
    "swing",
    "write_plot",
]


def __getattr__(name: str) -> Any:
    for home, names in _HOME.items():
        if name in names:
            return getattr(import_module(home), name)
    raise AttributeError(f"module 'springgeo.fit' has no attribute '{name}'")


def __dir__() -> list[str]:
    return sorted(__all__)

"""springgeo: helical extension springs, from a checked specification to a true-shape model.

>>> import springgeo as sg
>>> spring = sg.Spring.from_preset("gate-latch")
>>> round(spring.summary().rate, 2) > 0
True

Light on purpose: importing this loads no geometry kernel; each part is loaded when first used.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from springgeo.version import __version__

_HOME = {
    "Spring": "springgeo.api",
    "Spec": "springgeo.specification",
    "State": "springgeo.state",
    "StressProfile": "springgeo.statics.profile",
    "Summary": "springgeo.summary",
    "Finding": "springgeo.findings",
    "SpringgeoError": "springgeo.errors",
    "SpecError": "springgeo.errors",
    "FileError": "springgeo.errors",
    "BuildError": "springgeo.errors",
    "EndParameters": "springgeo.ends.protocol",
    "EndShape": "springgeo.ends.protocol",
    "EndStyle": "springgeo.ends.protocol",
    "BodyEnd": "springgeo.ends.protocol",
    "ByUnits": "springgeo.ends.protocol",
    "Elements": "springgeo.elements.choice",
    "Piece": "springgeo.curve",
    "Table": "springgeo.sweeping",
    "end_style": "springgeo.ends.from_function",
    "register": "springgeo.ends.registry",
    "recover": "springgeo.recovery.recover",
    "size": "springgeo.sizing.size",
    "sweep": "springgeo.sweeping.sweep",
}

__all__ = [
    "BodyEnd",
    "BuildError",
    "ByUnits",
    "Elements",
    "EndParameters",
    "EndShape",
    "EndStyle",
    "FileError",
    "Finding",
    "Piece",
    "Spec",
    "SpecError",
    "Spring",
    "SpringgeoError",
    "State",
    "StressProfile",
    "Summary",
    "Table",
    "__version__",
    "end_style",
    "recover",
    "register",
    "size",
    "sweep",
]

if TYPE_CHECKING:
    from springgeo.api import Spring
    from springgeo.curve import Piece
    from springgeo.elements.choice import Elements
    from springgeo.ends.from_function import end_style
    from springgeo.ends.protocol import BodyEnd, ByUnits, EndParameters, EndShape, EndStyle
    from springgeo.ends.registry import register
    from springgeo.errors import BuildError, FileError, SpecError, SpringgeoError
    from springgeo.findings import Finding
    from springgeo.recovery.recover import recover
    from springgeo.sizing.size import size
    from springgeo.specification import Spec
    from springgeo.state import State
    from springgeo.statics.profile import StressProfile
    from springgeo.summary import Summary
    from springgeo.sweeping.sweep import sweep
    from springgeo.sweeping.table import Table


def __getattr__(name: str) -> Any:
    if name not in _HOME:
        raise AttributeError(f"module 'springgeo' has no attribute '{name}'")
    return getattr(import_module(_HOME[name]), name)


def __dir__() -> list[str]:
    return sorted(__all__)

"""What a dimension of the model is: a value between features of the shape, and its tolerance."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from springgeo.text.naming import ENDS

Kind = Literal["diameter", "distance", "angle"]
# field of the summary's geometry: symbol and words
LABELS = {
    "free_length": "L0, free length inside hooks",
    "wire_diameter": "d, wire diameter",
    "mean_diameter": "D, mean coil diameter",
    "outer_diameter": "De, outside coil diameter",
    "inner_diameter": "Di, inside coil diameter",
    "hook_length_first": f"LH, hook length, {ENDS['first']}",
    "hook_length_second": f"LH, hook length, {ENDS['second']}",
    "opening_first": f"e, cut end to body's face, {ENDS['first']}",
    "opening_second": f"e, cut end to body's face, {ENDS['second']}",
    "mouth_first": f"m, mouth, clear, {ENDS['first']}",
    "mouth_second": f"m, mouth, clear, {ENDS['second']}",
    "loop_angle": "angle between the loop planes",
}
# numbers of faces of the first part's solid, or the name of a mate frame
Feature = tuple[int, ...] | str


@dataclass(frozen=True)
class Dimension:
    """One dimension.

    Attributes
    ----------
    label : str
        Symbol and words, for a spring one of `LABELS`.
    kind : "diameter", "distance" or "angle"
        Of one feature, or between two.
    value : float, mm or deg
    features : tuple of Feature
    tolerance : float, optional
        Plus and minus, mm or deg; None where none is published.
    source : str
        Whose tolerance it is.
    """

    label: str
    kind: Kind
    value: float
    features: tuple[Feature, ...]
    tolerance: float | None = None
    source: str = ""


@dataclass(frozen=True)
class StatedDimension:
    """A dimension as a file has it, in mm or deg; limits are offsets from the value.

    ``features`` counts the faces or frames of each feature it is tied to.
    """

    label: str
    value: float
    unit: str
    lower: float | None
    upper: float | None
    source: str
    features: tuple[int, ...]

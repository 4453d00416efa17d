"""How far the dimensions of made springs stray, and what their loads must keep within."""

from __future__ import annotations

from typing import Annotated, Any, Literal, NamedTuple

from pydantic import BeforeValidator, Field, PlainSerializer, WithJsonSchema

from springgeo import units
from springgeo.specification.base import SpecModel
from springgeo.specification.quantity import Bare, Number

Distribution = Literal["normal", "uniform"]
Adjusted = Literal["none", "initial-tension", "coils", "mean-diameter", "free-length"]
_KINDS = {"length": "mm", "force": "N", "number": ""}


class Band(NamedTuple):
    """From ``low`` to ``high`` off the nominal value: in its unit, or in shares of it."""

    low: float
    high: float
    share: bool = False

    def of(self, nominal: float) -> tuple[float, float]:
        """Return both deviations in the unit of a nominal value."""
        scale = abs(nominal) if self.share else 1.0
        return self.low * scale, self.high * scale

    def written(self) -> list[object]:
        """Return it as a file may hold it."""
        if self.share:
            return [f"{100 * self.low:.15g} %", f"{100 * self.high:.15g} %"]
        return [self.low, self.high]


def band(value: object, kind: str, *, share: bool) -> Band | None:
    """Return what ``0.1 mm``, ``5 %``, ``-0.1 mm..0.2 mm`` or a list of both deviations says.

    Raises
    ------
    ValueError
        It says none of these.
    """
    if value is None or isinstance(value, Band):
        return value
    if isinstance(value, str) and ".." in value:
        value = value.split("..")
    if isinstance(value, list | tuple):
        if len(value) != 2:
            raise ValueError("needs the lower and the upper deviation, such as -0.1..0.2")
        low, high = (_one(x, kind, share=share) for x in value)
    else:
        high = _one(value, kind, share=share)
        if high[0] < 0:
            raise ValueError(
                f"'{str(value)[:40]}' is negative; a tolerance is plus and minus, or low..high "
                "such as -0.1..0.2"
            )
        low = -high[0], high[1]
    if low[1] != high[1] and 0.0 not in (low[0], high[0]):
        raise ValueError("one deviation is a share and the other is not; give both alike")
    if low[0] > high[0]:
        raise ValueError("the lower deviation is above the upper one; give low..high")
    return Band(low[0], high[0], low[1] or high[1])


def _one(value: object, kind: str, *, share: bool) -> tuple[float, bool]:
    percent = isinstance(value, str) and value.strip().endswith("%")
    if kind == "number" and share:
        return units.parse(value, "number"), True
    if percent and not share:
        raise ValueError(f"'{str(value)[:40]}' is a share; give a number")
    return units.parse(
        value.strip() if isinstance(value, str) else value, "number" if percent else kind
    ), percent


def _off(kind: str, *, share: bool) -> list[object]:
    bare = _KINDS[kind] or "no unit"
    marks = [Bare(_KINDS[kind])] if _KINDS[kind] else []
    return [
        BeforeValidator(lambda value: band(value, kind, share=share)),
        PlainSerializer(lambda found: found.written(), when_used="json-unless-none"),
        WithJsonSchema(_schema(bare, share=share)),
        *marks,
    ]


def _schema(bare: str, *, share: bool) -> dict[str, object]:
    forms: list[dict[str, object]] = [{"type": "number"}, {"type": "string"}]
    both = {"type": "array", "items": {"anyOf": forms}, "minItems": 2, "maxItems": 2}
    text = f"plus and minus, or lower and upper deviation; a bare number is in {bare}"
    null = {"type": "null"}
    return {"anyOf": [*forms, both, null], "description": text + ("; or in %" if share else "")}


def _bands(value: object) -> tuple[Band, ...] | None:
    if value is None:
        return None
    many = value if isinstance(value, list | tuple) and not isinstance(value, Band) else [value]
    if not 1 <= len(many) <= 50:
        raise ValueError("needs 1 to 50 tolerances, one for all or one for each load")
    found = tuple(x for x in (band(x, "force", share=True) for x in many) if x is not None)
    if any(x.low != -x.high for x in found):
        raise ValueError(
            "a load is limited plus and minus alike, as its sheet says it; give one value"
        )
    return found


OffLength = Annotated[Any, *_off("length", share=True)]
OffForce = Annotated[Any, *_off("force", share=True)]
OffShare = Annotated[Any, *_off("number", share=True)]
OffNumber = Annotated[Any, *_off("number", share=False)]
OffLoads = Annotated[
    Any,
    BeforeValidator(_bands),
    PlainSerializer(lambda found: [x.written() for x in found], when_used="json-unless-none"),
    WithJsonSchema(
        {
            "anyOf": [
                {"type": "number"},
                {"type": "string"},
                {"type": "array", "items": _schema("N", share=True), "maxItems": 50},
                {"type": "null"},
            ],
            "description": "tolerance of the loads, one for all or one for each; bare: N; or in %",
        }
    ),
    Bare("N"),
]


class Tolerances(SpecModel):
    """What a maker holds, where it is not what the trade's tables say; 0: exact.

    Each is plus and minus (``0.05 mm``, ``2 %``) or from..to (``-0.1 mm..0.2 mm``).
    ``coil_diameter`` is of the diameter that rules (``making.controls``); ``hook_length`` and
    ``bend_radius`` are of each hook. The free length strays by itself, hooks making good what the
    body lacks; given a ``hook_length``, it follows from body and hooks. The tensile strength is
    the least of its standard and does not stray unless it is said to. ``distribution``: normal,
    the tolerance being three standard deviations, or uniform. ``grade``: of DIN 2097.
    ``adjusts``: what the maker sets anew for every lot of wire, so that the load is met.
    ``loads``, plus and minus, one for all or a list of one for each by rising load, and ``rate``
    are limits; ``share`` of the springs is wanted within them. The sheet carries those of the
    loads; beside its dimensions stand the trade's.
    """

    distribution: Distribution = "normal"
    grade: Literal[1, 2, 3] = 2
    wire_diameter: OffLength = None
    coil_diameter: OffLength = None
    coils: OffNumber = None
    initial_tension: OffForce = None
    shear_modulus: OffShare = None
    free_length: OffLength = None
    hook_length: OffLength = None
    bend_radius: OffLength = None
    tensile_strength: OffShare = None
    adjusts: Adjusted | None = None
    loads: OffLoads = None
    rate: OffShare = None
    share: Annotated[Number, Field(gt=0, lt=1)] | None = None

"""What a material file holds: every block of values with its source and how that is known."""

from __future__ import annotations

from itertools import pairwise
from typing import Annotated, Literal, Self

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, model_validator

from springgeo.materials.tensile import Law
from springgeo.text.characters import hidden
from springgeo.units import FACTORS

# between which Poisson's ratio of a spring wire lies: no engineering metal is outside
POISSON = 0.0, 0.45

Known = Literal["read", "from memory", "common practice"]
Positive = Annotated[float, Field(strict=True, gt=0, allow_inf_nan=False)]
Number = Annotated[float, Field(strict=True, allow_inf_nan=False)]
Share = Annotated[float, Field(strict=True, gt=0, le=1)]


def _plain(text: str) -> str:
    if (sign := hidden(text)) is not None:
        raise ValueError(f"holds the character {sign}, which does not show; leave it out")
    return text


Text = Annotated[str, Field(min_length=1, max_length=600), AfterValidator(_plain)]


class FileModel(BaseModel):
    """A frozen mapping without unknown keys."""

    # built when first used: a command uses few of them
    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)


class Sourced(FileModel):
    """A block of values and where it comes from.

    ``known``: ``read`` in the named source, ``from memory`` of it, or ``common practice``.
    """

    source: Text
    known: Known


class Value(Sourced):
    """One number; its unit is part of the key in the file."""

    value: Number


class ShareValue(Sourced):
    """A fraction of the tensile strength."""

    value: Share


class Modulus(Sourced):
    """A modulus by wire diameter: rows of (largest diameter, value); the last may be open."""

    length: Literal["mm", "in"]
    stress: Literal["MPa", "GPa", "Mpsi"]
    rows: Annotated[
        tuple[tuple[Positive | None, Positive], ...], Field(min_length=1, max_length=50)
    ]

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        ends = [d for d, _ in self.rows]
        if None in ends[:-1]:
            raise ValueError("only the last row may leave its largest diameter empty")
        given = [d for d in ends if d is not None]
        if any(b <= a for a, b in pairwise(given)):
            raise ValueError("rows need increasing diameters")
        if ends[-1] is not None:
            raise ValueError("the last row needs an empty diameter (null): it holds for all above")
        return self

    def row(self, d: float) -> str:
        """Return in words which row holds for a wire diameter, mm."""
        size = d / FACTORS["length"][self.length]
        i = next(i for i, (e, _) in enumerate(self.rows) if e is None or size <= e * (1 + 1e-6))
        end, value = self.rows[i]
        low = self.rows[i - 1][0] if i else 0.0
        up_to = "" if end is None else f" to {end:g}"
        return f"row above {low:g}{up_to} {self.length}: {value:g} {self.stress}"


class StaticAllowables(Sourced):
    """Static allowable stresses as fractions of the minimum tensile strength."""

    body_shear: Share
    hook_bending: Share
    hook_shear: Share


class ElasticLimits(Sourced):
    """Where the wire begins to yield, as fractions of tensile strength: least and greatest."""

    tension: tuple[Share, Share]
    torsion: tuple[Share, Share]

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        if any(low > high for low, high in (self.tension, self.torsion)):
            raise ValueError("a fraction's least value is above its greatest")
        return self


class StrengthAtTemperature(Sourced):
    """Rows of (temperature in degC, strength over that at 20 degC), straight lines between."""

    rows: Annotated[tuple[tuple[Number, Share], ...], Field(min_length=2, max_length=50)]

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        if any(b[0] <= a[0] or b[1] > a[1] for a, b in pairwise(self.rows)):
            raise ValueError("rows need rising temperatures and strengths that do not rise")
        if self.rows[0] != (20.0, 1.0):
            raise ValueError("the first row is that of room temperature, [20.0, 1.0]")
        return self


class Relaxation(Sourced):
    """Loss of load, per cent, after ``hours`` at one stress: rows of (temperature, loss).

    ``stress_share`` is the shear stress over tensile strength the loss was measured at.
    """

    hours: Positive
    stress_share: Share
    rows: Annotated[tuple[tuple[Number, Number], ...], Field(min_length=1, max_length=50)]

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        if any(b[0] <= a[0] or b[1] < a[1] for a, b in pairwise(self.rows)):
            raise ValueError("rows need rising temperatures and losses that do not fall")
        if not all(0 <= loss <= 100 for _, loss in self.rows):
            raise ValueError("a loss lies between 0 and 100 per cent")
        return self


class CyclicRow(FileModel):
    """Allowable largest stress at a life, load from zero, as fractions of tensile strength."""

    cycles: Positive
    body_shear: Share
    hook_bending: Share
    hook_shear: Share


class CyclicAllowables(Sourced):
    """Cyclic allowables, one row per life."""

    rows: Annotated[tuple[CyclicRow, ...], Field(min_length=1, max_length=50)]

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        for a, b in pairwise(self.rows):
            if b.cycles <= a.cycles:
                raise ValueError("rows need rising cycles")
            places = ("body_shear", "hook_bending", "hook_shear")
            if any(getattr(b, place) > getattr(a, place) for place in places):
                raise ValueError("a longer life cannot allow a higher stress")
        return self


class Flag(Sourced):
    """Yes or no."""

    value: Annotated[bool, Field(strict=True)]


class Aliases(Sourced):
    """Other names the trade uses; one that several materials share is refused, naming them."""

    names: Annotated[tuple[Annotated[Text, Field(max_length=60)], ...], Field(max_length=30)]


class WireGauge(Sourced):
    """The table of gauge numbers this wire is ordered by."""

    table: Literal["music-wire-gauge", "steel-wire-gauge"]


class Caveat(FileModel):
    """What a user must know; for wire from ``from_mm`` to ``to_mm``, both included."""

    code: Annotated[str, Field(pattern=r"^[a-z0-9][a-z0-9-]{0,59}$")]
    text: Text
    from_mm: Positive = 1e-6
    to_mm: Positive = 1e6


class MaterialData(FileModel):
    """A material file."""

    id: Annotated[str, Field(pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]{0,59}$")]
    title: Annotated[Text, Field(max_length=100)]
    standard: Annotated[Text, Field(max_length=200)]
    aliases: Aliases | None = None
    wire_gauge: WireGauge | None = None
    family: Literal["steel", "nickel alloy", "copper alloy"] = "steel"
    tensile: Law | None
    tensile_laws: Annotated[dict[str, Law], Field(max_length=20)] = {}
    shear_modulus: Modulus
    elastic_modulus: Modulus
    density_g_cm3: Value
    temperature_limit_degC: Value | None = None
    temperature_minimum_degC: Value | None = None
    modulus_loss_per_K: Value | None = None
    strength_at_temperature: StrengthAtTemperature | None = None
    relaxation: Relaxation | None = None
    elastic_limits: ElasticLimits | None = None
    relative_cost: Value | None = None
    static_allowables: StaticAllowables
    static_en: ShareValue | None = None
    cyclic_allowables: CyclicAllowables | None = None
    initial_tension_possible: Flag
    caveats: Annotated[tuple[Caveat, ...], Field(max_length=50)] = ()

    @model_validator(mode="after")
    def _sensible(self) -> Self:
        if "table" in self.tensile_laws:
            raise ValueError("'table' is the name of the tensile block; rename this tensile law")
        if not 0.1 < self.density_g_cm3.value < 30:
            raise ValueError("density_g_cm3 needs a value in g/cm3, between 0.1 and 30")
        if self.relative_cost is not None and self.relative_cost.value <= 0:
            raise ValueError("relative_cost needs a value above 0")
        loss = self.modulus_loss_per_K
        if loss is not None and not 0 <= loss.value <= 1e-3:
            raise ValueError("modulus_loss_per_K needs a value per kelvin, between 0 and 0.001")
        low, high = self.temperature_minimum_degC, self.temperature_limit_degC
        if low is not None and high is not None and low.value >= high.value:
            raise ValueError("temperature_minimum_degC is not below temperature_limit_degC")
        return self

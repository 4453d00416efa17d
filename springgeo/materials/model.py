"""A spring wire material: strength, moduli and allowables, in mm, MPa, kg and degC."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, TypeVar

import numpy as np
from numpy.typing import ArrayLike

from springgeo.errors import SpecError, refused
from springgeo.findings import Finding, error, nearest, source
from springgeo.materials.material_file import MaterialData, Modulus, ShareValue, Value
from springgeo.materials.sizes import looks_like_inches
from springgeo.materials.tensile import Array, FormulaLaw, PowerLaw, Strength, TableLaw
from springgeo.text import quantity as q
from springgeo.text.shown import said, word
from springgeo.units import FACTORS

Shares = tuple[float, float, float]
Pair = tuple[float, float]
Size = TypeVar("Size", float, Array)
_FIELD = "wire.material"
# what power laws were called before; a file of a user's own may still use any name
RENAMED = {
    "shigley": "power-law-inch",
    "shigley-si": "power-law-metric",
    "norton": "power-law-metric-2",
}
# the temperature the tables are for, degC
ROOM = 20.0


@dataclass(frozen=True)
class Material:
    """A material as read from its file; ``data`` holds the file with every source."""

    data: MaterialData

    @property
    def id(self) -> str:
        """The name used in a specification."""
        return self.data.id

    @property
    def title(self) -> str:
        """The name for people."""
        return self.data.title

    @property
    def standard(self) -> str:
        """The standard the wire is ordered to."""
        return self.data.standard

    @property
    def content(self) -> dict[str, Any]:
        """What its file says, as a specification may carry it."""
        return self.data.model_dump(mode="json", exclude_unset=True)

    @property
    def aliases(self) -> tuple[str, ...]:
        """Other names of the same wire: of the trade, grades, numbers; source in ``data``."""
        return () if self.data.aliases is None else self.data.aliases.names

    @property
    def density(self) -> float:
        """Density, kg/mm³."""
        return self.data.density_g_cm3.value * 1e-6

    @property
    def temperature_limit(self) -> float | None:
        """Highest service temperature, degC."""
        return _value(self.data.temperature_limit_degC)

    @property
    def temperature_minimum(self) -> float | None:
        """Lowest service temperature, degC; None where no source gives it."""
        return _value(self.data.temperature_minimum_degC)

    @property
    def is_steel(self) -> bool:
        """Whether fatigue data published for steel wire may be used."""
        return self.data.family == "steel"

    @property
    def gauge_table(self) -> str | None:
        """The wire gauge that a bare number of this wire is of; None where that is not settled."""
        return None if self.data.wire_gauge is None else self.data.wire_gauge.table

    @property
    def relative_cost(self) -> float | None:
        """Cost relative to hard-drawn wire."""
        return _value(self.data.relative_cost)

    @property
    def initial_tension_possible(self) -> bool:
        """Whether a body of this wire can be wound with initial tension."""
        return self.data.initial_tension_possible.value

    @property
    def static_allowables(self) -> Shares:
        """Body shear, hook bending, hook shear: fractions of the minimum tensile strength."""
        share = self.data.static_allowables
        return share.body_shear, share.hook_bending, share.hook_shear

    @property
    def static_en(self) -> float | None:
        """EN 13906-2's static fraction, for uncorrected body shear; None if not covered."""
        return _value(self.data.static_en)

    @property
    def cyclic_allowables(self) -> dict[float, Shares] | None:
        """The same fractions by cycles, for load from zero; None where no source gives them."""
        table = self.data.cyclic_allowables
        if table is None:
            return None
        return {r.cycles: (r.body_shear, r.hook_bending, r.hook_shear) for r in table.rows}

    @property
    def elastic_limits(self) -> tuple[Pair, Pair] | None:
        """Least and greatest elastic limit, tension and torsion: fractions of tensile strength."""
        found = self.data.elastic_limits
        return None if found is None else (found.tension, found.torsion)

    @property
    def laws(self) -> list[str]:
        """Names ``tensile`` accepts: ``table`` is the standard's own, the others textbooks'."""
        return (["table"] if self.data.tensile else []) + list(self.data.tensile_laws)

    @property
    def diameter_range(self) -> tuple[float, float]:
        """Smallest and largest wire of the tensile table, mm; NaN where there is no table."""
        return self.data.tensile.span if self.data.tensile else (np.nan, np.nan)

    def shear_modulus(self, d: Size, temperature: float = ROOM) -> Size:
        """Return the shear modulus at wire diameter ``d`` (mm, number or array), MPa."""
        return _modulus(self.data.shear_modulus, d, self.modulus_share(temperature))

    def elastic_modulus(self, d: Size, temperature: float = ROOM) -> Size:
        """Return the modulus of elasticity at wire diameter ``d`` (mm, number or array), MPa."""
        return _modulus(self.data.elastic_modulus, d, self.modulus_share(temperature))

    def modulus_share(self, temperature: float) -> float:
        """Return either modulus at a temperature (degC) over that at 20 degC; 1 if not known.

        1 - r (T - 20), EN 13906-1 cl. 8; r is the material's own, with its source in ``data``.
        """
        loss = self.data.modulus_loss_per_K
        return 1.0 if loss is None else 1.0 - loss.value * (temperature - ROOM)

    def strength_share(self, temperature: float) -> float | None:
        """Return the strength at a temperature (degC) over that at 20 degC; None if not known.

        Up to room temperature it is 1: cold wire is not weaker. Beyond the last row, not known.
        """
        if temperature <= ROOM:
            return 1.0
        table = self.data.strength_at_temperature
        if table is None or temperature > table.rows[-1][0]:
            return None
        T, share = zip(*table.rows, strict=True)
        return float(np.interp(temperature, T, share))

    def relaxation(self, temperature: float) -> float | None:
        """Return the loss of load at a temperature (degC), per cent; None if not known."""
        table = self.data.relaxation
        if table is None or not table.rows[0][0] <= temperature <= table.rows[-1][0]:
            return None
        T, loss = zip(*table.rows, strict=True)
        return float(np.interp(temperature, T, loss))

    def poisson(self, d: Size) -> Size:
        """Return Poisson's ratio E/(2G) - 1 at wire diameter ``d`` (mm): that of the moduli."""
        return self.elastic_modulus(d) / (2 * self.shear_modulus(d)) - 1

    def tensile(self, d: float, law: str = "table") -> Strength:
        """Return the tensile strength of wire of diameter ``d``.

        Parameters
        ----------
        d : float
            Wire diameter, mm.
        law : str
            One of ``laws``.

        Raises
        ------
        SpecError
            No such law, or the diameter is outside what the law covers.
        """
        found = self._law(law)
        if not found.covers(d):
            raise SpecError(self._outside(d, law, found.span))
        low, high = float(found.minimum(d)), float(found.maximum(d))
        return Strength(low, None if np.isnan(high) else high, found.source, found.known)

    def row(self, d: float, law: str = "table") -> str:
        """Return in words what of a tensile law holds for a diameter, mm, as it is printed."""
        return self._law(law).row(d)

    def tensile_minimum(self, d: ArrayLike) -> Array:
        """Return the minimum of the tensile table at diameters ``d`` (mm), MPa, NaN outside."""
        if self.data.tensile is None:
            return np.full_like(np.asarray(d, dtype=float), np.nan)
        return self.data.tensile.minimum(d)

    def caveats(self, d: float, cyclic: bool = False) -> list[Finding]:
        """Return what to know about this material's data at wire diameter ``d`` (mm).

        Parameters
        ----------
        d : float
            Wire diameter, mm.
        cyclic : bool
            Also say so if no repeated-load table covers this material.
        """
        data = self.data
        found = []
        if isinstance(data.tensile, PowerLaw):
            text = said(
                "no table at hand: tensile strength is a textbook fit ({source})",
                source=word(data.tensile.source),
            )
            found.append(source("tensile-power-law", _FIELD, text))
        if data.tensile and data.tensile.known == "from memory":
            text = said(
                "the tensile strength of {title} is from memory ({source}); compare it with the "
                "standard or give wire.tensile_strength",
                title=word(data.title),
                source=word(data.tensile.source),
            )
            found.append(source("tensile-from-memory", _FIELD, text))
        if "from memory" in (data.shear_modulus.known, data.elastic_modulus.known):
            text = said(
                "a modulus of {title} is from memory ({source}); the rate follows it",
                title=word(data.title),
                source=word(data.shear_modulus.source),
            )
            found.append(source("modulus-from-memory", _FIELD, text))
        limit = data.temperature_limit_degC
        if limit is not None and limit.known == "from memory":
            text = said(
                "the limit of {value} of {title} is from memory ({source}); ask the wire maker "
                "before use near it",
                value=q.temperature(limit.value, 6),
                title=word(data.title),
                source=word(limit.source),
            )
            found.append(source("temperature-from-memory", _FIELD, text))
        if cyclic and data.cyclic_allowables is None:
            text = said(
                "no repeated-load table is at hand for {title}; steel wire is held against "
                "infinite-life data whatever the life, for other wire there is no factor: test",
                title=word(data.title),
            )
            found.append(source("cyclic-table-missing", _FIELD, text))
        here = [c for c in data.caveats if c.from_mm <= d <= c.to_mm]
        return found + [source(c.code, _FIELD, word(c.text)) for c in here]

    def _law(self, law: str) -> TableLaw | FormulaLaw | PowerLaw:
        if law == "table" and self.data.tensile:
            return self.data.tensile
        if law in self.data.tensile_laws:
            return self.data.tensile_laws[law]
        name = str(law)[:60]
        if law in RENAMED and RENAMED[law] in self.laws:
            text = f"'{law}' is now called '{RENAMED[law]}'; write that"
            raise refused("renamed-tensile-law", "wire.tensile_law", text)
        if not self.laws:
            text = f"no tensile strength of {self.title} is at hand; give wire.tensile_strength"
        else:
            text = f"'{name}' is not a tensile law of {self.title}; {nearest(name, self.laws)}"
        raise refused("unknown-tensile-law", "wire.tensile_law", text)

    def _outside(self, d: float, law: str, span: tuple[float, float]) -> Finding:
        others = [n for n in self.laws if n != law and self._law(n).covers(d)]
        switch = f" or tensile_law: {' / '.join(others)}" if others else ""
        inches = f"; in inches, write '{d:g} in'" if looks_like_inches(d) else ""
        return error(
            "wire-size-outside-table",
            "wire.diameter",
            said(
                "{d} is outside {span} to {span_2}, the sizes for which tensile law '{law}' of "
                "{title} is known; choose a diameter in that range, another material{switch}, "
                "or give wire.tensile_strength{inches}",
                d=q.length(d, 5),
                span=q.length(span[0], 4, unit=False),
                span_2=q.length(span[1], 4),
                law=law,
                title=word(self.title),
                switch=switch,
                inches=inches,
            ),
        )


def _value(block: Value | ShareValue | None) -> float | None:
    return None if block is None else block.value


def _modulus(block: Modulus, d: Size, share: float) -> Size:
    size = np.asarray(d, dtype=float) / FACTORS["length"][block.length]
    ends = [np.inf if end is None else end * (1 + 1e-6) for end, _ in block.rows]
    row = np.minimum(np.searchsorted(ends, size), len(ends) - 1)
    values = np.array([value for _, value in block.rows])[row] * (share * _STRESS[block.stress])
    found = np.where(np.isnan(size), np.nan, values)
    return found if isinstance(d, np.ndarray) else float(found)


_STRESS = {unit: FACTORS["stress"][unit] for unit in ("MPa", "GPa", "Mpsi")}

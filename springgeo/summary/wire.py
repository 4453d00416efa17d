"""The centreline's own statics applied to the specification's loads."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
import numpy.typing as npt

from springgeo.equilibrium.bearing import Bearing
from springgeo.equilibrium.between import Between
from springgeo.equilibrium.load_curve import LoadCurve
from springgeo.equilibrium.solved import Solved
from springgeo.errors import SpecError
from springgeo.mechanics import static_limits
from springgeo.results.along_wire import AlongTheWire, WirePeak, WirePoint, WireStresses
from springgeo.results.handbook import Stresses
from springgeo.results.place import Place
from springgeo.spring.geometry import Geometry
from springgeo.statics import (
    Contacts,
    Stressable,
    UnitStress,
    WireStress,
    analyse,
    compliance,
    per_newton,
)
from springgeo.statics.bands import band
from springgeo.statics.regions import REGIONS, Peak
from springgeo.summary import section_worked as section
from springgeo.summary import solved
from springgeo.summary.handbook import Handbook, worse
from springgeo.text import quantity as q
from springgeo.text.naming import piece_words
from springgeo.text.shown import PLAIN
from springgeo.worked.number import number

# which stress decides where, and which allowable it is held against
PLACES = {
    "body": ("body_shear", "shear"),
    "A": ("hook_bending", "axial"),
    "B": ("hook_torsion", "shear"),
}
# where each is looked for: a hook can bend hardest in a rise or a knuckle, and twist hardest in
# any wire between the coil and the loop
SEARCHED = {"body": ("body",), "A": ("A", "elsewhere", "B"), "B": ("B", "elsewhere")}
# Poisson's ratio for which the stress distribution round the wire was computed
MEASURED_POISSON = 0.3


def contacts_of(geometry: Geometry) -> Contacts:
    """Return where the load acts: on the wire's centreline at each apex.

    A plain end is loaded through a fitting that grips the coil at its cut end, a fitted end
    where its part grips the coils.
    """
    below, above = geometry.contacts
    s_a, s_b = geometry.contact_s
    first, last = geometry.load_s
    half, axis = geometry.wire_diameter / 2, np.array([0.0, 0.0, 1.0])
    if s_a is not None:
        below = below - half * axis
    if s_b is not None:
        above = above + half * axis
    return Contacts(
        point_a=below,
        point_b=above,
        s_a=first,
        s_b=last,
    )


def deciding(wire: WireStress, region: str) -> Peak | None:
    """Return the greatest stress that decides a place; None without that place."""
    if region not in wire.peaks:
        return None
    kind = PLACES[region][1]
    found: list[Peak] = [getattr(wire.peaks[r], kind) for r in SEARCHED[region] if r in wire.peaks]  # type: ignore[index]
    return max(found, key=lambda peak: peak.value)


# MPa: no less is told of a place
_NOTHING = 1e-9


@dataclass(frozen=True)
class AlongWire:
    """Beside the handbook: the same questions answered from the centreline.

    Parameters
    ----------
    book : Handbook
    near : Between, optional
        What states at many loads are read off: good to a few thousandths of a wire diameter.
    """

    book: Handbook
    near: Between | None = field(default=None, kw_only=True)

    def between(self) -> AlongWire:
        """Return the same wire for questions at many loads, to be read off few states."""
        other = AlongWire(self.book, near=self.curve.between())
        shared = ("_sections", "compliance", "unit")
        vars(other).update({k: x for k, x in vars(self).items() if k in shared})
        return other

    def solve(self, load: float) -> Solved:
        """Return the equilibrium at a load above zero, N; raises SpecError."""
        return self.curve.solve(load) if self.near is None else self.near.state(load)

    @cached_property
    def _sections(self) -> Stressable:
        g, m = self.book.model.geometry, self.book.material
        nu = float(m.elastic_modulus) / (2 * float(m.shear_modulus)) - 1
        return Stressable.of(g.path, g.wire_diameter, g.load_s, nu)

    @cached_property
    def compliance(self) -> dict[str, float]:
        """Deflection per newton of the wire as drawn, by piece, mm/N."""
        g, m = self.book.model.geometry, self.book.material
        moduli = float(m.elastic_modulus), float(m.shear_modulus)
        return compliance(g.path, g.wire_diameter, contacts_of(g), *moduli)

    @cached_property
    def unit(self) -> UnitStress:
        """Stress and compliance per newton of the wire as drawn: what small loads do."""
        return per_newton(self._sections, contacts_of(self.book.model.geometry), self.compliance)

    @cached_property
    def _bearing(self) -> Bearing:
        pressed = self._sections.region == REGIONS.index("body")
        return Bearing(self.curve, self._sections.wire, pressed, self.solve)

    @cached_property
    def _at(self) -> dict[float, WireStress]:
        return {}

    def at(self, load: float) -> WireStress:
        """Return the stress at a load, N, from what the sections bear in equilibrium.

        Coils that press on each other keep what they were wound with. Beyond what the wire can be
        drawn to, the drawn shape's stress stands in: to straighten a coil of index C bends its
        wire by a strain of 1/C, which no spring wire bears.
        """
        load = float(load)
        if load not in self._at:
            if load == 0.0 and not self.curve.pressing:
                return self.unit.scaled(0.0)
            try:
                self._at[load] = self._sections.under(*self._bearing.at(load), load)
            except SpecError:
                self._at[load] = self.unit.scaled(load)
        return self._at[load]

    def poisson_effect(self) -> dict[str, float]:
        """Return by place how much this wire's ν changes the stress from that at ν = 0.3, %."""
        g, G = self.book.model.geometry, self.book.material.shear_modulus
        plain = analyse(g.path, g.wire_diameter, contacts_of(g), 2 * G * (1 + MEASURED_POISSON), G)
        found = {}
        for region, (name, _) in PLACES.items():
            here, there = deciding(self.unit, region), deciding(plain, region)
            if here is not None and there is not None:
                found[name] = 100 * (here.value / there.value - 1)
        return found

    @property
    def rate(self) -> float:
        """Spring rate by energy, N/mm."""
        return solved.small_rate(self.book, self.compliance)

    @property
    def curve(self) -> LoadCurve:
        """Load over length, the one of the handbook's points too."""
        return self.book.curve

    def length_within(self, load: float) -> float:
        """Return the length inside hooks at a load, mm, at most the longest that is answered."""
        at = float(load)
        if self.curve.is_slight(at):
            return solved.length(self.book, load, self.curve.length(at))
        try:
            more = self.solve(at).extension if self.near is None else self.near.extension(at)
            found = self.curve.free_length + more
        except SpecError:
            found = self.curve.longest
        return solved.length(self.book, load, found)

    def per_newton(self, region: str) -> float | None:
        """Deciding stress of a region under small loads, MPa/N; None without such a region."""
        peak = deciding(self.unit, region)
        return None if peak is None else peak.value

    def stress(self, region: str, load: float) -> float | None:
        """Deciding stress of a region at a load, MPa; None if the spring has no such region."""
        peak = self._peak(region, load)
        if peak is None:
            return None
        found = section.stress(self, load, PLACES[region][1], peak)
        # where nothing is borne, what is left of it in the last digits is none
        return found if found > _NOTHING else 0.0 * found

    def _peak(self, region: str, load: float) -> Peak | None:
        one_of_many = self.near is not None and float(load) not in self._at
        return deciding((self._half(region) if one_of_many else self).at(load), region)

    def _half(self, region: str) -> AlongWire:
        """Return this wire with the sections of the body alone, or without them."""
        body = region == "body"
        if body not in self._halves:
            self._halves[body] = self._with(self._bearing.pressed == body)
        return self._halves[body]

    def _with(self, held: npt.NDArray[np.bool_]) -> AlongWire:
        """Return this wire with some of its sections alone; itself if there is none of them."""
        if not held.any():
            return self
        other = AlongWire(self.book, near=self.near)
        vars(other).update(
            _sections=self._sections[held], compliance=self.compliance, unit=self.unit
        )
        return other

    @cached_property
    def _halves(self) -> dict[bool, AlongWire]:
        return {}

    def sides(self, load: float) -> dict[str, str | None]:
        """Return by region the key of the end stressed harder, ``*`` for both alike; None: body.

        An end's half of the wire is its own: the coil beside a bend belongs to the bend.
        """
        wire, middle = self.at(load), self.book.model.geometry.path.length / 2
        found: dict[str, str | None] = {}
        for region, (_, kind) in PLACES.items():
            ours = np.isin(wire.region, [REGIONS.index(r) for r in SEARCHED[region]])
            stress = getattr(wire.stress, kind)
            halves = {"first": ours & (wire.s < middle), "second": ours & (wire.s >= middle)}
            ends = {k: float(stress[at].max()) if at.any() else None for k, at in halves.items()}
            found[region] = None if region == "body" else worse(ends)[1]
        return found

    def point(self, load: float, length: float | None = None) -> WirePoint:
        """Return the working point at a load, N, and its length, mm, if that is known.

        Raises
        ------
        SpecError
            No length goes with the load.
        """
        if length is None:
            length = self.book.length_at(load)
        return WirePoint(
            length=length,
            deflection=length - self.book.L_0,
            **dict(self.stressed(load)),
        )

    def stressed(self, load: float) -> WireStresses:
        """Return stresses and margins at a load, N, and be it one that draws the wire straight."""
        stress = {name: self.stress(region, load) for region, (name, _) in PLACES.items()}
        allow = self.book.allowable
        margins = {
            k: None if not v else number(static_limits.margin(getattr(allow, k), v))
            for k, v in stress.items()
        }
        present = {
            region: margins[name]
            for region, (name, _) in PLACES.items()
            if margins[name] is not None
        }
        first = min(present, key=lambda r: present[r] or math.inf, default=None)
        every = (peaks.von_mises for peaks in self.at(load).peaks.values())
        greatest = section.stress(self, load, "von_mises", max(every, key=lambda p: p.value))
        return WireStresses(
            load=load,
            von_mises=greatest,
            margin=Stresses(**margins),
            # an open-wound body without load is not stressed anywhere
            governing="none" if first is None else PLACES[first][0],
            place=None if first is None else self._place(first, load),
            verdict="no stress" if first is None else self._verdict(first, present, load),
            body_shear=stress["body_shear"] or 0.0,
            hook_bending=stress["hook_bending"],
            hook_torsion=stress["hook_torsion"],
        )

    def _verdict(self, region: str, margins: Mapping[str, float | None], load: float) -> str:
        peak, margin = self._peak(region, load), margins[region] or 0.0
        assert peak is not None
        outcome = "would fail first" if margin >= 1 else "FAILS"
        text = (
            f"{self._place(region, load).words} {outcome}, in {piece_words(peak.label)}, "
            f"margin {PLAIN.value(q.factor(margin))}"
        )
        close = [
            f"{self._place(other, load).words} (margin {PLAIN.value(q.factor(value))})"
            for other, value in margins.items()
            if other != region
            and value
            and not self._told_apart((region, margin), (other, value), load)
        ]
        return f"{text}; too close to tell from {' and '.join(close)}" if close else text

    def _told_apart(self, first: tuple[str, float], other: tuple[str, float], load: float) -> bool:
        """Return whether the lesser of two margins by region is so whatever the errors of both.

        A stress that is computed too high by a share gives a margin too low by as much.
        """
        greatest = first[1] * (1 + self._error(first[0], load)[1] / 100)
        return greatest < other[1] * (1 + self._error(other[0], load)[0] / 100)

    def _error(self, region: str, load: float) -> tuple[float, float]:
        peak = self._peak(region, load)
        assert peak is not None
        return band(peak.near, PLACES[region][1])

    def _place(self, region: str, load: float) -> Place:
        return Place.of(PLACES[region][0], self.sides(load)[region])

    def facts(self) -> AlongTheWire:
        """Return everything for the summary."""
        found = [
            WirePeak(
                region=region,
                kind=kind,
                per_newton=section.per_newton(self, kind, p),
                label=p.label,
                s=p.s,
                angle=math.degrees(p.angle),
                near=p.near,
                error_low=error[0],
                error_high=error[1],
            )
            for region, peaks in self.unit.peaks.items()
            for kind in ("shear", "axial", "von_mises")
            for p in (getattr(peaks, kind),)
            for error in (band(p.near, kind),)
        ]
        m = self.book.material
        return AlongTheWire(
            rate=self.rate,
            rate_difference_percent=100 * (self.rate / self.book.rate - 1),
            poisson=m.elastic_modulus / (2 * m.shear_modulus) - 1,
            compliance=dict(self.unit.compliance),
            peaks=tuple(found),
            points=tuple(self.point(p.load, p.length) for p in self.book.points),
        )

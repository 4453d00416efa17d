"""The centreline's own statics applied to the specification's loads."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np

from springgeo.equilibrium.load_curve import LoadCurve
from springgeo.errors import SpecError
from springgeo.results.place import Place
from springgeo.results.summary import AlongTheWire, Stresses, WirePeak, WirePoint
from springgeo.spring.geometry import Geometry
from springgeo.statics import Contacts, WireStress, analyse
from springgeo.statics.bands import band
from springgeo.statics.regions import REGIONS, Peak
from springgeo.summary.handbook import Handbook, worse
from springgeo.text.words import piece_words

# which stress decides where, and which allowable it is held against
PLACES = {
    "body": ("body_shear", "shear"),
    "A": ("hook_bending_a", "axial"),
    "B": ("hook_torsion_b", "shear"),
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
    half, axis = geometry.diameter / 2, np.array([0.0, 0.0, 1.0])
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


def deciding(unit: WireStress, region: str) -> Peak | None:
    """Return the greatest stress that decides a place, per newton; None without that place."""
    if region not in unit.peaks:
        return None
    kind = PLACES[region][1]
    found: list[Peak] = [getattr(unit.peaks[r], kind) for r in SEARCHED[region] if r in unit.peaks]  # type: ignore[index]
    return max(found, key=lambda peak: peak.value)


class Stressed(NamedTuple):
    """Stresses of the places at a load, MPa; a load that draws the wire straight has them too.

    The fields are those of ``results.summary.WirePoint``.
    """

    load: float
    body_shear: float
    hook_bending_a: float | None
    hook_torsion_b: float | None
    von_mises: float
    margin: Stresses
    governing: str
    place: Place | None
    verdict: str


@dataclass(frozen=True)
class AlongWire:
    """Beside the handbook: the same questions answered from the centreline."""

    book: Handbook

    @cached_property
    def unit(self) -> WireStress:
        """Stress and compliance per newton."""
        g, m = self.book.model.geometry, self.book.material
        return analyse(g.path, g.diameter, contacts_of(g), m.elastic_modulus, m.shear_modulus)

    def poisson_effect(self) -> dict[str, float]:
        """Return by place how much this wire's ν changes the stress from that at ν = 0.3, %."""
        g, G = self.book.model.geometry, self.book.material.shear_modulus
        plain = analyse(g.path, g.diameter, contacts_of(g), 2 * G * (1 + MEASURED_POISSON), G)
        found = {}
        for region, (name, _) in PLACES.items():
            here, there = self._peak(region), deciding(plain, region)
            if here is not None and there is not None:
                found[name] = 100 * (here.value / there.value - 1)
        return found

    @property
    def rate(self) -> float:
        """Spring rate by energy, N/mm."""
        return self.unit.rate

    @property
    def curve(self) -> LoadCurve:
        """Load over length, the one of the handbook's points too."""
        return self.book.curve

    def length_within(self, load: float) -> float:
        """Return the length inside hooks at a load, mm, at most the longest that is answered."""
        try:
            return self.curve.length(load)
        except SpecError:
            return self.curve.longest

    def stress(self, region: str, load: float) -> float | None:
        """Deciding stress of a region at a load, MPa; None if the spring has no such region."""
        peak = self._peak(region)
        if peak is None:
            return None
        return peak.value * self._acting(region, load)

    def _acting(self, region: str, load: float) -> float:
        """Return the load a region feels, N: pressed coils keep what they were wound with."""
        return max(load, self.book.initial_tension.force) if region == "body" else load

    def _peak(self, region: str) -> Peak | None:
        return deciding(self.unit, region)

    @cached_property
    def sides(self) -> dict[str, str | None]:
        """By region, the key of the end stressed harder, ``*`` for both alike; None for the body.

        An end's half of the wire is its own: the coil beside a bend belongs to the bend.
        """
        unit, middle = self.unit, self.book.model.geometry.path.length / 2
        found: dict[str, str | None] = {}
        for region, (_, kind) in PLACES.items():
            ours = np.isin(unit.region, [REGIONS.index(r) for r in SEARCHED[region]])
            stress = getattr(unit.stress, kind)
            halves = {"a": ours & (unit.s < middle), "b": ours & (unit.s >= middle)}
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
            deflection=length - self.curve.free_length,
            **self.stressed(load)._asdict(),
        )

    def stressed(self, load: float) -> Stressed:
        """Return stresses and margins at a load, N, whatever the length."""
        stress = {name: self.stress(region, load) for region, (name, _) in PLACES.items()}
        allow = self.book.allowable
        margins = {k: None if not v else getattr(allow, k) / v for k, v in stress.items()}
        present = {
            region: margins[name]
            for region, (name, _) in PLACES.items()
            if margins[name] is not None
        }
        first = min(present, key=lambda r: present[r] or math.inf, default=None)
        greatest = max(
            peaks.von_mises.value * self._acting(region, load)
            for region, peaks in self.unit.peaks.items()
        )
        return Stressed(
            load=load,
            von_mises=greatest,
            margin=Stresses(**margins),
            # an open-wound body without load is not stressed anywhere
            governing="none" if first is None else PLACES[first][0],
            place=None if first is None else self._place(first),
            verdict="no stress" if first is None else self._verdict(first, present),
            body_shear=stress["body_shear"] or 0.0,
            hook_bending_a=stress["hook_bending_a"],
            hook_torsion_b=stress["hook_torsion_b"],
        )

    def _verdict(self, region: str, margins: Mapping[str, float | None]) -> str:
        peak, margin = self._peak(region), margins[region] or 0.0
        assert peak is not None
        outcome = "would fail first" if margin >= 1 else "FAILS"
        text = (
            f"{self._place(region).words} {outcome}, in {piece_words(peak.label)}, "
            f"margin {margin:.2f}"
        )
        close = [
            f"{self._place(other).words} (margin {value:.2f})"
            for other, value in margins.items()
            if other != region and value and not self._told_apart(region, margin, other, value)
        ]
        return f"{text}; too close to tell from {' and '.join(close)}" if close else text

    def _told_apart(self, first: str, margin: float, other: str, value: float) -> bool:
        """Return whether the lesser margin is the lesser one whatever the errors of both.

        A stress that is computed too high by a share gives a margin too low by as much.
        """
        greatest = margin * (1 + self._error(first)[1] / 100)
        return greatest < value * (1 + self._error(other)[0] / 100)

    def _error(self, region: str) -> tuple[float, float]:
        peak = self._peak(region)
        assert peak is not None
        return band(peak.near, PLACES[region][1])

    def _place(self, region: str) -> Place:
        return Place.of(PLACES[region][0], self.sides[region])

    def facts(self) -> AlongTheWire:
        """Return everything for the summary."""
        found = [
            WirePeak(
                region=region,
                kind=kind,
                per_newton=p.value,
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

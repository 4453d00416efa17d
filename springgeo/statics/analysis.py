"""Stress and rate along the wire of any centreline held by two contacts."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields, replace
from typing import Self

import numpy as np
import numpy.typing as npt

from springgeo.curve import Path, Samples
from springgeo.curve.frame import Array
from springgeo.statics.around import Greatest
from springgeo.statics.bands import Surroundings, surroundings
from springgeo.statics.contacts import Contacts
from springgeo.statics.energy import compliance, rate_of
from springgeo.statics.felt import Felt
from springgeo.statics.forces import SectionForces, load
from springgeo.statics.regions import REGIONS, Peaks, Region, peaks, region_of
from springgeo.statics.stations import between, stations
from springgeo.statics.stress import Bent


@dataclass(frozen=True, eq=False)
class WireStress:
    """What a load does to the wire.

    Attributes
    ----------
    load : float, N
    s : (n,) float, mm
        Stations between the contacts; a joint appears twice.
    index : (n,) int
        Which piece of the path, and so which of ``labels``.
    labels : tuple of str
        Of all pieces of the path.
    kappa : (n,) float, 1/mm
        The curvature felt by bending.
    felt : Felt
        The curvature felt, in the frame of the forces.
    region : (n,) int
        Position in ``REGIONS``.
    forces : SectionForces
    stress : Greatest
    peaks : mapping of region to Peaks
        ``body``, ``B``, ``A``, ``elsewhere``; a region the spring lacks is left out.
    """

    load: float
    s: Array
    index: npt.NDArray[np.intp]
    labels: tuple[str, ...]
    kappa: Array
    felt: Felt
    region: npt.NDArray[np.intp]
    forces: SectionForces
    stress: Greatest
    peaks: Mapping[Region, Peaks]

    @property
    def normal(self) -> Array:
        """Toward the inside of the bend, ``(n, 3) float``.

        Angles round the wire start there, toward tangent × normal.
        """
        return self.felt.n

    def scaled(self, F: float) -> Self:
        """Return the same at ``F`` times the load, the shape unchanged: statics is linear."""
        size = abs(F)
        forces = SectionForces(*(F * getattr(self.forces, f.name) for f in fields(SectionForces)))
        stress = replace(
            self.stress,
            axial=size * self.stress.axial,
            shear=size * self.stress.shear,
            von_mises=size * self.stress.von_mises,
        )
        found = {region: p.scaled(F) for region, p in self.peaks.items()}
        return replace(self, load=F * self.load, forces=forces, stress=stress, peaks=found)


@dataclass(frozen=True, eq=False)
class UnitStress(WireStress):
    """What a newton does to the wire as drawn.

    Attributes
    ----------
    compliance : mapping of label to float, mm/N
    """

    compliance: Mapping[str, float]

    @property
    def rate(self) -> float:
        """Spring rate of small loads, N/mm."""
        return rate_of(self.compliance)


@dataclass(frozen=True, eq=False)
class Stressable:
    """The wire between its contacts as drawn, ready for any forces on its sections.

    Attributes
    ----------
    wire : Samples
        ``(n,)`` stations.
    bent : Bent
    labels : tuple of str
        Of all pieces of the path.
    region : (n,) int
        Position in ``REGIONS``.
    near : callable
        What the wire is like at an arc length, mm.
    """

    wire: Samples
    bent: Bent
    labels: tuple[str, ...]
    region: npt.NDArray[np.intp]
    near: Callable[[float], Surroundings]

    @classmethod
    def of(cls, path: Path, wire_diameter: float, span: tuple[float, float], nu: float) -> Self:
        """Return the wire between two arc lengths, mm; raises ValueError (``stations``)."""
        every = stations(path, wire_diameter, *span)
        loaded = between(path, every, *span)
        wire = Samples(*(getattr(every, f.name)[loaded] for f in fields(Samples)))
        return cls(
            wire,
            Bent.of(every, wire_diameter, nu, loaded),
            tuple(p.label for p in path.pieces),
            region_of(path, wire.s, wire.index, wire_diameter),
            surroundings(path, wire_diameter),
        )

    def __getitem__(self, rows: npt.NDArray[np.bool_]) -> Stressable:
        """Return some of the stations, under which nothing else changes."""
        wire = Samples(*(getattr(self.wire, f.name)[rows] for f in fields(Samples)))
        return Stressable(wire, self.bent[rows], self.labels, self.region[rows], self.near)

    def under(self, force: Array, moment: Array, load: float) -> WireStress:
        """Return the stress that forces and moments ``(3,)`` or ``(n, 3)`` at ``load`` N cause.

        Nothing is assumed about where these come from (``stresses``).
        """
        here, wire = self.bent.under(force, moment), self.wire
        found = {
            name: peaks(here.stress, wire.s, self.labels, wire.index, self.region == i, self.near)
            for i, name in enumerate(REGIONS)
        }
        return WireStress(
            load=load,
            s=wire.s,
            index=wire.index,
            labels=self.labels,
            region=self.region,
            **vars(here),
            peaks={name: p for name, p in found.items() if p is not None},
        )


def analyse(path: Path, wire_diameter: float, contacts: Contacts, E: float, G: float) -> UnitStress:
    """Return stress along the wire and spring rate for a load of 1 N on the wire as drawn.

    What small loads do: the shape is that of the path, whatever the load.

    Parameters
    ----------
    path : Path
        Any centreline, G1.
    wire_diameter : float, mm
        Of the wire.
    contacts : Contacts
    E, G : float, MPa
        Poisson's ratio for the stress distribution is E/2G − 1.

    Raises
    ------
    ValueError
        A contact is not on the wire, or a size or modulus is not positive.
    """
    if not min(wire_diameter, E, G) > 0.0:
        raise ValueError(f"diameter, E and G must be positive, got {wire_diameter:g}, {E:g}, {G:g}")
    sections = Stressable.of(path, wire_diameter, (contacts.s_a, contacts.s_b), E / (2 * G) - 1)
    return per_newton(sections, contacts, compliance(path, wire_diameter, contacts, E, G))


def per_newton(
    sections: Stressable, contacts: Contacts, compliance: Mapping[str, float]
) -> UnitStress:
    """Return the same as ``analyse`` of sections and compliances that stand ready."""
    unit = sections.under(*load(sections.wire.point, contacts), 1.0)
    found = {f.name: getattr(unit, f.name) for f in fields(WireStress)}
    return UnitStress(**found, compliance=compliance)

"""Stress and rate along the wire of any centreline held by two contacts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace

import numpy as np
import numpy.typing as npt

from springgeo.curve import Path, Samples
from springgeo.curve.frame import Array
from springgeo.statics.bands import surroundings
from springgeo.statics.contacts import Contacts
from springgeo.statics.energy import compliance
from springgeo.statics.felt import Felt
from springgeo.statics.forces import SectionForces, load
from springgeo.statics.regions import REGIONS, Peaks, Region, peaks, region_of
from springgeo.statics.section import Greatest
from springgeo.statics.stations import between, stations
from springgeo.statics.stress import stresses


@dataclass(frozen=True, eq=False)
class WireStress:
    """What a load does to the wire, per newton unless scaled.

    Attributes
    ----------
    load : float, N
        The load the numbers are for.
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
    compliance : mapping of label to float, mm/N
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
    compliance: Mapping[str, float]

    @property
    def normal(self) -> Array:
        """Toward the inside of the bend, ``(n, 3) float``.

        Angles round the wire start there, toward tangent × normal.
        """
        return self.felt.n

    @property
    def rate(self) -> float:
        """Spring rate, N/mm."""
        return 1.0 / sum(self.compliance.values())

    def scaled(self, F: float) -> WireStress:
        """Return the same at ``F`` times the load: statics is linear."""
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


def analyse(path: Path, diameter: float, contacts: Contacts, E: float, G: float) -> WireStress:
    """Return stress along the wire and spring rate for a load of 1 N.

    Stress follows the whole load, deflection only what exceeds the initial tension; both are
    proportional, so ``scaled`` and the rate answer every load.

    Parameters
    ----------
    path : Path
        Any centreline, G1.
    diameter : float, mm
        Of the wire.
    contacts : Contacts
    E, G : float, MPa
        Poisson's ratio for the stress distribution is E/2G − 1.

    Raises
    ------
    ValueError
        A contact is not on the wire, or a size or modulus is not positive.
    """
    if not min(diameter, E, G) > 0.0:
        raise ValueError(f"diameter, E and G must be positive, got {diameter:g}, {E:g}, {G:g}")
    every = stations(path, diameter, contacts.s_a, contacts.s_b)
    loaded = between(path, every, contacts.s_a, contacts.s_b)
    force, moment = load(every.point, contacts)
    here = stresses(every, force, moment, diameter, E / (2 * G) - 1, loaded)
    held = Samples(*(getattr(every, f.name)[loaded] for f in fields(Samples)))
    labels = tuple(p.label for p in path.pieces)
    region = region_of(path, held.s, held.index, diameter)
    near = surroundings(path, diameter)
    found = {
        name: peaks(here.stress, held.s, labels, held.index, region == i, near)
        for i, name in enumerate(REGIONS)
    }
    return WireStress(
        load=1.0,
        s=held.s,
        index=held.index,
        labels=labels,
        kappa=here.kappa,
        felt=here.felt,
        region=region,
        forces=here.forces,
        stress=here.stress,
        peaks={name: p for name, p in found.items() if p is not None},
        compliance=compliance(path, diameter, contacts, E, G),
    )

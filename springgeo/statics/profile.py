"""The stress along the wire as columns, for a table or a plot."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any, Self

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array
from springgeo.optional import need
from springgeo.statics.analysis import WireStress
from springgeo.statics.regions import REGIONS


@dataclass(frozen=True, eq=False)
class StressProfile:
    """Section forces and greatest stresses at stations of the wire under one load.

    Attributes
    ----------
    load : float, N
    s : (n,) float, mm
        Arc length from the cut of the first end.
    label, region : (n,) str
        The piece of wire, as the centreline names it; ``body``, ``A`` (loops), ``B`` (bends) or
        ``elsewhere``.
    curvature : (n,) float, 1/mm
        As bending feels it.
    N, V_n, V_b : (n,) float, N
        Axial force and shear forces toward the inside of the bend and across it.
    T, M_n, M_b : (n,) float, N mm
        Torque and bending moments about the same directions.
    max_axial, max_shear, von_mises : (n,) float, MPa
        Greatest round the wire: axial; shear in any direction (Tresca/2); von Mises.
    max_axial_angle, max_shear_angle, von_mises_angle : (n,) float, deg
        Where, from the inside of the bend.
    """

    load: float
    s: Array
    label: npt.NDArray[np.str_]
    region: npt.NDArray[np.str_]
    curvature: Array
    N: Array
    V_n: Array
    V_b: Array
    T: Array
    M_n: Array
    M_b: Array
    max_axial: Array
    max_axial_angle: Array
    max_shear: Array
    max_shear_angle: Array
    von_mises: Array
    von_mises_angle: Array

    @classmethod
    def of(cls, result: WireStress, load: float) -> Self:
        """Return the columns of a result."""
        f, g = result.forces, result.stress
        return cls(
            load=load,
            s=result.s,
            label=np.array(result.labels)[result.index],
            region=np.array(REGIONS)[result.region],
            curvature=result.kappa,
            N=f.N,
            V_n=f.V_n,
            V_b=f.V_b,
            T=f.T,
            M_n=f.M_n,
            M_b=f.M_b,
            max_axial=g.axial,
            max_axial_angle=np.degrees(g.axial_angle),
            max_shear=g.shear,
            max_shear_angle=np.degrees(g.shear_angle),
            von_mises=g.von_mises,
            von_mises_angle=np.degrees(g.von_mises_angle),
        )

    def __len__(self) -> int:
        """Return how many stations there are."""
        return len(self.s)

    def columns(self) -> dict[str, npt.NDArray[Any]]:
        """Return the columns ``(n,)`` by name, in the order of the attributes."""
        return {f.name: getattr(self, f.name) for f in fields(self) if f.name != "load"}

    def to_pandas(self) -> Any:
        """Return a pandas DataFrame; raises MissingLibraryError without pandas."""
        return need("pandas", "to_pandas()", "pandas").DataFrame(self.columns())

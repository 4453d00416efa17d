"""The stress along the wire as columns, for a table or a plot."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any, Self

import numpy as np
import numpy.typing as npt

from springgeo.curve.frame import Array
from springgeo.optional import need
from springgeo.statics.analysis import WireStress
from springgeo.statics.forces import SectionForces
from springgeo.statics.regions import REGIONS

_WHERE = ("s", "label", "region", "curvature")


@dataclass(frozen=True, eq=False)
class StressProfile(SectionForces):
    """Section forces and greatest stresses at stations of the wire under one load.

    Attributes
    ----------
    N, V_n, V_b, T, M_n, M_b : (n,) float
        As in ``SectionForces``; n points toward the inside of the bend.
    load : float, N
    s : (n,) float, mm
        Arc length from the cut of the first end.
    label, region : (n,) str
        The piece of wire, as the centreline names it; ``body``, ``A`` (loops), ``B`` (bends) or
        ``elsewhere``.
    curvature : (n,) float, 1/mm
        As bending feels it.
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
    max_axial: Array
    max_axial_angle: Array
    max_shear: Array
    max_shear_angle: Array
    von_mises: Array
    von_mises_angle: Array

    @classmethod
    def of(cls, result: WireStress, load: float) -> Self:
        """Return the columns of a result."""
        g = result.stress
        return cls(
            **vars(result.forces),
            load=load,
            s=result.s,
            label=np.array(result.labels)[result.index],
            region=np.array(REGIONS)[result.region],
            curvature=result.kappa,
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
        """Return the columns ``(n,)`` by name: where, then forces, then stresses."""
        names = [f.name for f in fields(self) if f.name not in ("load", *_WHERE)]
        return {name: getattr(self, name) for name in (*_WHERE, *names)}

    def to_pandas(self) -> Any:
        """Return a pandas DataFrame; raises MissingLibraryError without pandas."""
        return need("pandas", "to_pandas()", "pandas").DataFrame(self.columns())

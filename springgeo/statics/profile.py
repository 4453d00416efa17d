"""The stress along the wire as columns, for a table or a plot."""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt

from springgeo.statics.analysis import WireStress
from springgeo.statics.regions import REGIONS


def profile(result: WireStress) -> dict[str, npt.NDArray[Any]]:
    """Return columns ``(n,)`` by name: mm, N, N mm, MPa, degrees; ``label``, ``region`` text."""
    f, g = result.forces, result.stress
    return {
        "s": result.s,
        "label": np.array(result.labels)[result.index],
        "region": np.array(REGIONS)[result.region],
        "curvature": result.kappa,
        "N": f.N,
        "V_n": f.V_n,
        "V_b": f.V_b,
        "T": f.T,
        "M_n": f.M_n,
        "M_b": f.M_b,
        "max_axial": g.axial,
        "max_axial_angle": np.degrees(g.axial_angle),
        "max_shear": g.shear,
        "max_shear_angle": np.degrees(g.shear_angle),
        "von_mises": g.von_mises,
        "von_mises_angle": np.degrees(g.von_mises_angle),
    }

"""The shear modulus at temperature."""

from __future__ import annotations

from springgeo.mechanics.value import Value
from springgeo.worked.formula import formula


@formula
def G_T(G_20: Value, T: Value, r: Value) -> Value:
    """Return the shear modulus at temperature, G_T = G_20 [1 - r (T - 20)].

    The slope r is 0.25e-3 per K for carbon steel, 0.40e-3 for stainless. Relaxation is another
    matter, not covered. Source: EN 13906-1 cl. 8. Known: from memory, medium sureness. In MPa.

    Parameters
    ----------
    G_20, T, r : float or array
        Shear modulus at 20 °C, MPa; temperature, °C; loss of modulus, 1/K.
    """
    return G_20 * (1.0 - r * (T - 20.0))

"""The shear modulus at temperature."""

from __future__ import annotations

from springgeo.mechanics.value import Value


def G_T(G_20: Value, T: Value, r: Value) -> Value:
    """Return the shear modulus at temperature, G_T = G_20 [1 - r (T - 20)].

    The slope r is 0.25e-3 per K for carbon steel, 0.40e-3 for stainless. Relaxation is another
    matter, not covered. Source: EN 13906-1 cl. 8. Known: from memory, medium sureness.

    Parameters
    ----------
    G_20 : float or array
        Shear modulus at 20 °C, MPa.
    T : float or array
        Temperature, °C.
    r : float or array
        Loss of modulus, 1/K.

    Returns
    -------
    float or array
        G_T, MPa, broadcast shape.
    """
    return G_20 * (1.0 - r * (T - 20.0))

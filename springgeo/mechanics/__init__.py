"""Handbook and standard formulas of the extension spring: pure functions over numpy arrays.

Ground rules: numpy is all this package imports; every function broadcasts; units are mm, N, MPa,
rad, kg and Hz; tables and material data arrive as arguments. Where nothing else is said, a result
is a float, or an array of the arguments' broadcast shape, in the unit that the docstring ends
with. Each docstring names the source of its formula and, after ``Known:``, how the formula is
known: read, from memory (of the publication named), common practice, derived, or own estimate.

=====================  ==========================================================================
``body``               index, shear stress, curvature factors
``hook``               bending at A, torsion at B, inner and centreline radii, compliance
``rate``               active coils by three conventions, rate, deflection, load, length at load
``initial_tension``    force and stress, preferred range by index in three published forms
``length``             body, free, overall and wire length
``static_limits``      allowables, margins, required safety factors
``endurance``          endurance strengths from published fatigue data
``fatigue``            alternating and mean stress, safety factors
``life``               the one fatigue model: range, mean and life together
``spectrum``           many ranges of load, summed by Miner's rule
``dynamics``           natural frequency, mass of the wire, stored energy
``temperature``        shear modulus at temperature
``section``            stiffness of round wire in torsion, bending and along its axis
``value``              the type of every argument: a number or an array of numbers
=====================  ==========================================================================

Nothing is re-exported: write ``from springgeo.mechanics import body, hook``.
"""

# kept as reference: published conventions and inverses that no room uses, with which the tests
# reproduce worked examples and compare what is used
REFERENCE = frozenset(
    {
        "G_T",
        "K_W",
        "K_radius_ratio",
        "S_e_bending_norton",
        "S_es_norton",
        "S_ew_norton",
        "centreline_radius",
        "deflection_per_coil",
        "f_e_EN",
        "force_limit",
        "hook_equivalent_turns",
        "k_EN",
        "load_at_length",
        "n_f_norton",
        "n_f_repeated",
        "place_in_range",
        "preferred_shigley_si",
        "wire_length_approx",
    }
)

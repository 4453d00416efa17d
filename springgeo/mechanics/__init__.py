"""Handbook and standard formulas of the extension spring: pure functions over numpy arrays.

Ground rules: numpy is all this package imports; every function broadcasts; units are mm, N, MPa,
rad, kg and Hz; tables and material data arrive as arguments. Where nothing else is said, a result
is a float, or an array of the arguments' broadcast shape, in the unit that the docstring ends
with. Each docstring names the source of its formula and, after ``Known:``, how the formula is
known: read, from memory (of the publication named), common practice, derived, or own estimate.

=====================  ==========================================================================
``body``               index, shear stress, curvature factors
``hook``               bending at A, torsion at B, inner and centreline radii, compliance
``rate``               active coils by three conventions, rate, deflection, length at load
``initial_tension``    force and stress, preferred range by index in three published forms
``length``             body, free, overall and wire length
``static_limits``      allowables, margins, required safety factors
``endurance``          endurance strengths from published fatigue data
``fatigue``            alternating and mean stress, safety factors
``life``               the one fatigue model: range, mean and life together
``spectrum``           many ranges of load, summed by Miner's rule
``dynamics``           natural frequency, mass of the wire, stored energy
``round_wire``         stiffness of round wire in torsion, bending and along its axis
``value``              the type of every argument: a number or an array of numbers
=====================  ==========================================================================

Nothing is re-exported: write ``from springgeo.mechanics import body, hook``.
"""

# kept as reference, for no room uses them: the other convention of a quantity that is used, each
# held by a test against figures that its publication prints
REFERENCE = frozenset(
    {
        "K_W",  # Wahl: worked examples, beside Bergsträsser's K_B
        "S_e_bending_norton",  # Norton's strengths and his factor, beside Shigley's
        "S_es_norton",
        "S_ew_norton",
        "n_f_norton",
        "deflection_per_coil",  # printed by the tables of stock springs
        "f_e_EN",  # EN 13906: its worked example, beside the frequency of rate and mass
        "k_EN",
        "stored_energy",  # of the straight line; the summary has it of the load curve
        "place_in_range",  # how worked examples say where an initial tension lies
    }
)

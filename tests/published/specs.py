"""Specification files of published examples, in the units they are printed in."""

# Shigley's Mechanical Engineering Design, Examples 10-6 and 10-7 (inputs from memory, high
# confidence): hard-drawn wire, full loops of the coil's inside diameter, r1 and r2 of the
# wire's centreline
SHIGLEY = """
name: hard-drawn example
wire: {material: astm-a227, diameter: 0.035 in, tensile_law: power-law-inch,
       shear_modulus: 11.6 Mpsi, elastic_modulus: 28.7 Mpsi}
body: {outer_diameter: 0.248 in, coils: 12.17, initial_tension: 1.19 lbf}
ends:
  a: {style: full-twisted-loop, loop_radius: 0.106 in, bend_radius: 0.089 in, hook_length: 0.178 in}
  b: {style: full-twisted-loop, loop_radius: 0.106 in, bend_radius: 0.089 in, hook_length: 0.178 in}
service: {loads: [1.5 lbf, 5 lbf, 5.25 lbf]}
"""

# the cyclic example takes 1.5 to 5 lbf
SHIGLEY_CYCLIC = SHIGLEY.replace(
    "loads: [1.5 lbf, 5 lbf, 5.25 lbf]", "loads: [1.5 lbf, 5 lbf], duty: infinite"
)

# Machinery's Handbook 31st ed. p. 328 (read): 1/16 in wire, 3/4 in outside, 5 coils in the body,
# hooks of 85 % of the inside diameter, 2 lb initial tension, 9 lb at 2-1/16 in
MACHINERY = """
name: nine pound example
wire: {material: astm-a228, diameter: 1/16 in, shear_modulus: 11.23 Mpsi}
body: {outer_diameter: 3/4 in, coils: 5, initial_tension: 2 lbf}
ends:
  a: {style: machine-half-loop, hook_length: 0.53125 in, bend_radius: 0.125 in}
  b: {style: machine-half-loop, hook_length: 0.53125 in, bend_radius: 0.125 in}
service: {loads: [9 lbf]}
"""

# Bhandari, Design of Machine Elements, Example 10.5 (read): spring balance, no initial tension,
# no hooks in the source, so N = N_b: plain ends
BHANDARI = """
name: spring balance example
wire: {material: en-10270-1-sm, diameter: 7 mm, tensile_strength: 1360 MPa,
       shear_modulus: 81370 MPa}
body: {index: 6, coils: 22, initial_tension: 0 N}
ends: {a: {style: plain}, b: {style: plain}}
service: {loads: [1500 N]}
"""

# Mott, Machine Elements in Mechanical Design 4th ed., Example 19-4 (read): the trap. With loops of
# the inside diameter the initial tension that the loads need is negative
MOTT = """
name: latch example
wire: {material: astm-a227, diameter: 0.072 in, shear_modulus: 11.5 Mpsi}
body: {outer_diameter: 0.625 in, coils: 16.317, initial_tension: %s}
ends: {a: {style: full-twisted-loop}, b: {style: full-twisted-loop}}
service: {loads: [16.25 lbf, 26.75 lbf]}
"""

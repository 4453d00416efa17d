"""Commented files to start from, by what they are for; their data are invented."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

JOB = """\
# A sizing job for springgeo: what the spring must do and may be. Bare numbers are mm, N, N mm,
# degC (angles: deg); any value may carry a unit: "2.4 in", "3 lbf". The data below are invented.
name: my job

# What it must do, in one of four ways:
points:                          # loads at lengths inside hooks, two or more
  - {length: 60 mm, load: 15 N, tolerance: 5 %}      # or a force: 0.8 N
  - {length: 75 mm, load: 30 N, tolerance: 5 %}
# installed: {length: 60 mm, load: 15 N, rate: 1 N/mm, travel: 15 mm}
# energy: {lengths: [45 mm, 57 mm], energy: 0.2 J}   # and load: at the shorter length, or open
# lever:                         # the torque to hold about a pivot
#   arm: 40 mm                   # pivot to the pin on the lever
#   base: 90 mm                  # pivot to the fixed pin
#   angles: [60 deg, 90 deg]     # between the two, at the pivot
#   torques: [0.45 N m, 1.1 N m]
#   pin_diameters: [5 mm, 5 mm]
# use_tolerance: 50 %            # the share of the loads' tolerance that the design may take up

envelope:                        # all optional
  outer_diameter: 14 mm        # at most
  # rod_diameter: 4 mm           # that runs inside
  # free_length: 58 mm           # inside hooks, at most
  # hook_a: 10 mm                # room for each hook, from the body's end
  # hook_b: 10 mm

choice:                          # everything known, where left out
  # materials: [astm-a228, astm-a313-302]            # springgeo materials lists them
  # series: [en-iso]             # preferred wire sizes; or wire_sizes: [1.0, 1.2]
  ends: [full-twisted-loop, machine-half-loop, raised-hook]   # springgeo ends lists them
  # mixed_ends: true             # the two ends may differ
  index: [4, 16]

service:
  duty: static                   # or cyclic (with cycles: 1e6), or infinite
  temperature: 20 degC
  # spectrum: [{loads: [18 N, 30 N], count: 1e4}, {lengths: [62 mm, 70 mm], count: 2e6}]
  # forcing_frequency: 12 Hz

least: {body: 1.2, hook_bending: 1.2, hook_torsion: 1.2, fatigue: 1.2}  # least margins
objectives: [mass, margin, envelope]   # also cost, free_length, natural_frequency,
                                       # in_tolerance: most springs inside their loads' tolerance
# weights: {mass: 2}             # of the ranking; 1 where left out
# initial_tension: any           # preferred: within the range that makers wind easily
# method: handbook               # along-the-wire: hold the winners to the stress along the wire too
"""

READINGS = """\
# Readings of a spring for springgeo measure. Bare numbers are mm and N; the data are invented.
name: my sample
wire_diameter: [1.20, 1.21, 1.19]      # repeated readings, or a single one
outer_diameter: [10.80, 10.79]
coils: 18.5                            # of the body
free_length: [37.80, 37.90]            # inside hooks
# body_length: 23.4                    # end face to end face: shows whether coils still touch
hooks: [{style: full-twisted-loop}, {style: machine-half-loop, bend_radius: 2.4 mm}]
pulls:                                 # three or more; length inside hooks
  - {length: 41, load: 11.1}
  - {length: 45, load: 16.1}
  - {length: 49, load: 21.2}
  - {length: 53, load: 26.3}
# bench: run.csv                       # a test-bench run, beside this file: length and load
calliper: 0.01                         # standard uncertainties of a single reading
length_uncertainty: 0.1
load_uncertainty: 0.05
coils_uncertainty: 0.05
# material: astm-a228                  # if known
"""

FAMILY = """\
# A family for springgeo family: every combination of what varies. A table does as well: CSV or
# Parquet with columns such as name, wire.diameter, body.coils. The data below are invented.
base:                                  # a specification
  name: my family
  wire: {material: astm-a228, diameter: 1.2 mm}
  body: {index: 8, coils: 18.5}
  ends: {first: {style: full-twisted-loop}, second: {style: machine-half-loop}}
vary:                                  # lists of values by dotted key
  wire.diameter: [1 mm, 0.047 in, 1.4 mm]
  body.coils: [12, 18.5]
"""

STARTERS: Mapping[str, tuple[str, str, str]] = MappingProxyType(
    {
        "job": ("job.yaml", JOB, "springgeo size"),
        "readings": ("readings.yaml", READINGS, "springgeo measure"),
        "family": ("family.yaml", FAMILY, "springgeo family"),
    }
)

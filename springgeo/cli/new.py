"""``springgeo new``: a commented starter file."""

from __future__ import annotations

from pathlib import Path

import click

from springgeo.errors import FileError
from springgeo.export.atomic import atomic_write

STARTER = """\
# A specification for springgeo. Bare numbers are mm, N, MPa, degC (angles: deg); any value may
# carry a unit: "0.047 in", "2 lbf". The data below are invented.
name: my spring

wire:
  material: astm-a228      # springgeo materials lists them
  diameter: 1.2 mm

body:
  mean_diameter: 9.6 mm    # or outer_diameter, inner_diameter, index
  coils: 18.5
  hand: right              # or left
  initial_tension: 7 N     # or initial_stress; left out: middle of the preferred range
  # pitch: 1.5 mm          # or gap: wound open, then without initial tension

ends:                      # springgeo ends lists the styles and their parameters
  a: {style: full-twisted-loop}
  b: {style: machine-half-loop, bend_radius: 2.4 mm}
  # angle: 90 deg          # between the loop planes; moves the coil count to the nearest fit

service:
  loads: [15 N, 30 N]      # or lengths: [40 mm, 48 mm], inside hooks
  duty: static             # or cyclic (with cycles: 1e6), or infinite
  temperature: 20 degC
"""


@click.command("new")
@click.argument("file", default="spring.yaml")
@click.option("--force", is_flag=True, help="Replace the file if it exists.")
def command(file: str, force: bool) -> int:
    """Write a commented starter specification to FILE."""
    path = Path(file)
    if path.exists() and not force:
        raise FileError(f"'{path}' exists; choose another name, or give --force")
    atomic_write(path, STARTER.encode("utf-8"))
    click.echo(f"wrote {path}; next: springgeo build {path}")
    return 0

"""``springgeo new``: a commented starter file."""

from __future__ import annotations

from pathlib import Path

import click

from springgeo.cli.starters import STARTERS
from springgeo.cli.target import OutFile
from springgeo.errors import FileError
from springgeo.publish.atomic import atomic_write

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
  first: {style: full-twisted-loop}
  second: {style: machine-half-loop, bend_radius: 2.4 mm}
  # angle: 90 deg          # between the loop planes; moves the coil count to the nearest fit

service:
  loads: [15 N, 30 N]      # or lengths: [40 mm, 48 mm], inside hooks
  duty: static             # or cyclic (with cycles: 1e6), or infinite
  temperature: 20 degC

# what it is hooked to and runs in, for springgeo fit and springgeo assembly:
# mating:
#   first: {pin: {diameter: 6 mm, length: 12 mm}}  # or stud: diameter, groove_diameter,
#                                                  #   groove_width, length
#   second: {plate: {hole_diameter: 3 mm, thickness: 1.5 mm, edge_distance: 3.2 mm}}
#   around: {bore: {diameter: 12 mm}}            # and rod: diameter, length
#   over_travel: 2 mm                            # beyond the longest working length
#   offset: [2 mm, 0 mm]                         # the second pin out of line
#   down: level                                  # count the wire's own weight
#   play: 0.5 mm                                 # how far the mounts may come nearer
"""


@click.command("new")
@click.argument("file", required=False, type=OutFile(".yaml", ".yml"))
@click.option(
    "--for",
    "purpose",
    type=click.Choice(["spring", *STARTERS]),
    default="spring",
    show_default=True,
    help="A specification, a sizing job, readings of a sample, or a family.",
)
@click.option("--force", is_flag=True, help="Replace the file if it exists.")
def command(file: str | None, purpose: str, force: bool) -> int:
    """Write a commented starter file: spring, job, readings, family.

    FILE is spring.yaml, or named after its purpose, if left out.
    """
    name, text, then = STARTERS.get(purpose, ("spring.yaml", STARTER, "springgeo build"))
    path = Path(file or name)
    if path.exists() and not force:
        raise FileError(f"'{path}' exists; choose another name, or give --force")
    atomic_write(path, text.encode("utf-8"))
    click.echo(f"wrote {path}; next: {then} {path}")
    return 0

"""``python -m springgeo``: the command line."""

from springgeo.cli import main

main()

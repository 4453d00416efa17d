"""``python -m springgeo``: the command line."""

from springgeo.cli.entry import main

main()

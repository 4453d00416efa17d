"""The command line: ``springgeo build | check | ends | materials | new``."""

from springgeo.cli.main import main

__all__ = ["main"]

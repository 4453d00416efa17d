"""Every style within its stated range: ``python -m tests.stability.ends --count 7200``.

Trial n is of style n modulo their number, whatever package it comes from. Nothing may be refused
there, and the centreline must be what the style states.
"""

from __future__ import annotations

import json
from pathlib import Path

from springgeo.ends import registry
from tests.ends_catalogue.checks import outcome, random_case

from .trials import main


def trial(seed: int, folder: Path) -> bool:
    """Check the centreline of one spring."""
    names = registry.names()
    case = random_case(registry.get(names[seed % len(names)]), seed // len(names))
    found = outcome(case).failures
    assert not found, f"{found}\n{json.dumps(case.facts())}"
    return True


if __name__ == "__main__":
    main("ends", trial)

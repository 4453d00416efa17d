"""Random specifications, sensible and spoilt: ``python -m tests.stability.specifications``.

Each is refused by name or summarised whole: the JSON reads back as the same summary, its
specification as the same spring, every number is one, every check holds. One in ten is also
loaded up to its limit. The whole run: ``--count 20000``.
"""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import get_args

import numpy as np

from springgeo import Spring
from springgeo.results.summary import Summary
from springgeo.results.verdict import Outcome

from .drawn import specification
from .states import require_states
from .trials import main, require_finite
from .wild import as_yaml, spoilt

LOADED = 10


def trial(seed: int, folder: Path) -> bool:
    """Summarise one specification, and load it if its turn has come."""
    rng = np.random.default_rng([7, seed])
    data = specification(rng)
    if seed % 3 == 1:
        data = spoilt(rng, data)
    if seed % 4 == 3:
        path = folder / "spring.yaml"
        path.write_text(as_yaml(rng, data), encoding="utf-8", errors="replace")
        spring = Spring.from_file(path)
    else:
        spring = Spring.from_dict(data)
    require_whole(spring)
    if seed % LOADED == 0:
        require_states(spring, rng)
    return True


def require_whole(spring: Spring) -> None:
    """Raise where a summary is not whole."""
    summary = spring.summary()
    text = summary.json_text(None)
    stored = json.loads(text)
    require_finite(stored)
    assert Summary.model_validate(stored).json_text(None) == text, "the JSON reads back otherwise"
    failed = [f"{c.name} {c.value}" for c in summary.checks if not c.ok]
    assert not failed, f"checks fail: {failed}"
    if summary.verdict is not None:
        assert summary.verdict.outcome in get_args(Outcome)
    assert not any("\n" in f.line() for f in summary.findings), "a finding is not one line"
    again = Spring.from_dict(stored["specification"])
    near = math.isclose(again.free_length, spring.free_length, rel_tol=1e-12)
    assert near, "the stored specification is another spring"


if __name__ == "__main__":
    main("specifications", trial)

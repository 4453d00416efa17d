"""Jobs that a spring is known to do: ``python -m tests.stability.known_jobs --count 200``.

A spring is drawn that holds its loads, with ends of any proportions and any duty; the job asks for
two of its loads at the lengths that its load curve gives, said in any of the ways of a job, in mm
or inches, of the same wire and ends, perhaps among others, in a room that it fits. The search must
find springs, and each, read again as it is written, must be and do what was asked and said.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np

from springgeo.sizing import job_of, size

from .asked import written
from .asked.job import as_asked, job
from .asked.spring import known
from .trials import another, main

TOP = 2


def trial(seed: int, folder: Path) -> bool:
    """Ask for a spring that there is."""
    rng = np.random.default_rng([11, seed])
    found = known(rng)
    if found is None:
        return False
    asked = job(rng, found)
    said = as_asked(asked)
    another()
    read = job_of(said)
    result = size(read, TOP)
    why = [*result.turned_away, *(r.text for r in result.why_not)]
    assert result.winners, f"nothing found: {why}; {found.data}, {said}"
    for w in result.winners:
        another()
        try:
            written.require(w, read, folder, found.points)
        except AssertionError as exc:
            raise AssertionError(f"{exc}; {w.specification}, {found.data}, {said}") from exc
    return True


if __name__ == "__main__":
    main("known_jobs", trial)

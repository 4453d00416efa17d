"""Where the process of a command begins and ends.

It lives for half a second and loads some two hundred modules, which are there to stay: looking
through them for garbage, again and again, would take a seventh of that.
"""

from __future__ import annotations

import gc
import sys

# so many new objects, Python's own number being 700, are worth a look
_WORTH = 20_000


def main() -> None:
    """Run a command and leave with its exit code."""
    gc.disable()
    from springgeo.cli.main import run
    from springgeo.cli.output import open_closed

    open_closed()
    code = run(sys.argv[1:], loaded=_from_here)
    # the system takes back all at once
    gc.freeze()
    sys.exit(code)


def _from_here() -> None:
    gc.freeze()
    gc.set_threshold(_WORTH)
    gc.enable()

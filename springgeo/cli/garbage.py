"""When the process of a command looks for garbage: not while it loads, rarely then, not at its end.

A command lives for half a second and loads some two hundred modules, which are there to stay:
looking through them again and again took a seventh of its time.
"""

from __future__ import annotations

import gc

# so many new objects, Python's own number being 700, are worth a look
_WORTH = 20_000


def none_yet() -> None:
    """Look for no garbage until ``from_here``."""
    gc.disable()


def from_here() -> None:
    """Look for garbage from here on if ``none_yet`` was asked: not in what is there by now."""
    if not gc.isenabled():
        gc.freeze()
        gc.set_threshold(_WORTH)
        gc.enable()


def no_more() -> None:
    """Leave to the end of the process what is there by now."""
    gc.freeze()

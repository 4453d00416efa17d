"""The parameters that most hooks share, as sets; a style says in its docstring what each means."""

from __future__ import annotations

from springgeo.ends.protocol import EndParameters
from springgeo.specification.quantity import Length


class Hook(EndParameters):
    """r2 and r1 of the wire's centreline, and the hook's length; mm."""

    bend_radius: Length | None = None
    loop_radius: Length | None = None
    hook_length: Length | None = None


class OpenHook(Hook):
    """A hook whose cut end stands clear of the body by an opening, mm."""

    opening: Length | None = None


class RisingHook(Hook):
    """A hook whose wire crosses the body's end and rises by a bend of its own radius, mm."""

    rise_radius: Length | None = None


class OpenRisingHook(RisingHook):
    """A rising hook with an opening, mm."""

    opening: Length | None = None

"""An end style that a file of this package writes out: most of what it is stands in that file."""

from __future__ import annotations

import sys
import typing
from collections.abc import Callable
from typing import Any

from springgeo.ends.protocol import BodyEnd, ByUnits, EndShape, EndStyle, Range, Turning, Usual
from springgeo.ends.shared.sketch import sketch_in
from springgeo.trade.table import table


def written_out(
    shape: Callable[[Any, BodyEnd], EndShape],
    title: str,
    summary: str,
    ranges: Callable[[BodyEnd], Range] = lambda _end: {},
    *,
    holds_load: bool = True,
    turning: Turning = "free",
    offered: bool = True,
    by_units: tuple[ByUnits, ...] = (),
) -> EndStyle:
    """Return the style of the file that ``shape`` stands in.

    Its name is the file's, its sketch stands in the file's docstring, its parameters are what
    ``shape`` takes first, and its usual hook lengths are in the trade's table.
    """
    file = sys.modules[shape.__module__]
    name = shape.__module__.rpartition(".")[2].replace("_", "-")
    parameters, *_ = typing.get_type_hints(shape).values()
    return EndStyle(
        name=name,
        title=title,
        summary=summary,
        sketch=sketch_in(file.__doc__),
        parameters=parameters,
        shape=shape,
        ranges=ranges,
        holds_load=holds_load,
        turning=turning,
        usual=usual(name),
        offered=offered,
        by_units=by_units,
    )


def usual(name: str) -> Usual | None:
    """Return the hook lengths that the trade usually asks for of a style."""
    row = table("hook_length").get(name)
    return None if row is None else Usual(**row)

"""An end style from a plain function: its arguments become the parameters of a specification."""

from __future__ import annotations

import inspect
import types
import typing
from collections.abc import Callable, Iterable
from typing import Any

from pydantic import create_model

from springgeo.curve import Piece
from springgeo.ends.measured import measured_shape
from springgeo.ends.protocol import (
    BodyEnd,
    ByUnits,
    EndParameters,
    EndShape,
    EndStyle,
    Range,
    Turning,
    Usual,
)
from springgeo.specification.quantity import Length

Drawn = EndShape | Iterable[Piece]


def end_style(
    *,
    title: str = "",
    summary: str = "",
    sketch: str = "",
    name: str = "",
    ranges: Callable[[BodyEnd], Range] = lambda _end: {},
    holds_load: bool = True,
    turning: Turning = "free",
    usual: Usual | None = None,
    by_units: tuple[ByUnits, ...] = (),
) -> Callable[[Callable[..., Drawn]], EndStyle]:
    """Return a decorator that makes an `EndStyle` of a function.

    The function takes the `BodyEnd` and, each with a default, the parameters of the style; one
    annotated ``float`` is a length in mm that a specification may give in any unit. It returns
    an `EndShape`, or only the pieces of wire from P outward: then everything else is measured
    on them (`springgeo.ends.measured.measured_shape`). Its docstring becomes the parameters'
    description.

    Parameters
    ----------
    title, summary, sketch : str
        As in `EndStyle`; title and summary follow from name and docstring where left out.
    name : str
        The word in a specification; the function's own name with dashes where left out.
    ranges, holds_load, turning, usual, by_units
        As in `EndStyle`.

    Raises
    ------
    TypeError
        An argument has no default or no annotation.
    """

    def make(draw: Callable[..., Drawn]) -> EndStyle:
        word = name or draw.__name__.replace("_", "-")

        def shape(parameters: EndParameters, end: BodyEnd) -> EndShape:
            drawn = draw(end, **dict(parameters))
            return drawn if isinstance(drawn, EndShape) else measured_shape(drawn, end)

        lines = (inspect.getdoc(draw) or "").splitlines() or [word]
        return EndStyle(
            name=word,
            title=title or word.replace("-", " "),
            summary=summary or lines[0].replace("``", ""),
            sketch=sketch,
            parameters=_parameters(draw, word),
            shape=shape,
            ranges=ranges,
            holds_load=holds_load,
            turning=turning,
            usual=usual,
            by_units=by_units,
        )

    return make


def _parameters(draw: Callable[..., Drawn], word: str) -> type[EndParameters]:
    kinds = typing.get_type_hints(draw, include_extras=True)
    fields: dict[str, Any] = {}
    for argument in list(inspect.signature(draw).parameters.values())[1:]:
        if argument.default is inspect.Parameter.empty or argument.name not in kinds:
            raise TypeError(
                f"end style '{word}': its parameter '{argument.name}' needs an annotation and a "
                "default, such as float | None = None"
            )
        fields[argument.name] = (_as_length(kinds[argument.name]), argument.default)
    title = "".join(part.title() for part in word.split("-"))
    return create_model(title, __base__=EndParameters, __doc__=inspect.getdoc(draw), **fields)


def _as_length(kind: object) -> Any:
    """Return ``Length`` for ``float``, also in a union with None."""
    if kind is float:
        return Length
    if typing.get_origin(kind) in (typing.Union, types.UnionType):
        return typing.Union[tuple(_as_length(k) for k in typing.get_args(kind))]  # noqa: UP007
    return kind

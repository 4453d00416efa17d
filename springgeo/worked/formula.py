"""The decorator that lets a formula report what it was asked and what it answered."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from functools import wraps
from typing import ParamSpec, SupportsFloat, TypeVar, cast

import numpy as np

from springgeo.worked.docs import Docs, docs
from springgeo.worked.number import Step, Worked, recording, switched, worked
from springgeo.worked.reading import expressions

P = ParamSpec("P")
R = TypeVar("R")


def formula(function: Callable[P, R]) -> Callable[P, R]:
    """Let a formula over numbers be recorded; arrays pass through as they are.

    The docstring gives title, source, units and ranges, the code itself the expression.
    """

    @wraps(function)
    def asked(*args: P.args, **kwargs: P.kwargs) -> R:
        if not recording():
            return function(*args, **kwargs)
        return _recorded(function, *args, **kwargs)

    return asked


def _recorded(function: Callable[P, R], *args: P.args, **kwargs: P.kwargs) -> R:
    bound = inspect.signature(function).bind(*args, **kwargs)
    bound.apply_defaults()
    with switched(False):
        result = function(*args, **kwargs)
    given = bound.arguments
    if any(np.ndim(v) for v in given.values()):
        return result
    about, found = docs(function), expressions(function)
    operands = {n: v if isinstance(v, Worked) else float(v) for n, v in given.items()}

    def step(value: SupportsFloat, key: str, symbol: str) -> Worked:
        unit = about.unit or next(
            (v.step.unit for v in operands.values() if isinstance(v, Worked) and _carries(about)),
            "",
        )
        return worked(
            Step(
                "formula",
                float(value),
                symbol=symbol,
                title=about.title if not key else f"{about.title}, {key}",
                unit=unit,
                expression=None if found is None else found.get(key),
                operands=operands,
                arguments=about.arguments,
                source=about.source,
                known=about.known,
                notes=(about.remark,) if about.remark else (),
            )
        )

    if isinstance(result, tuple) and hasattr(result, "_fields"):
        pairs = zip(result._fields, result, strict=True)
        fields = [step(v, k, _joined(about.symbol, k)) for k, v in pairs]
        made = cast("Callable[..., R]", type(result))
        return made(*fields)
    return cast("R", step(cast("float", result), "", about.symbol))


def _carries(about: Docs) -> bool:
    """Return whether the result has the unit of what is put in: N or MPa."""
    return any("N or MPa" in a.words for a in about.arguments.values())


def _joined(symbol: str, key: str) -> str:
    return key if "_" in key else f"{symbol}_{key}"

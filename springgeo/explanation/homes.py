"""In which sections of a summary a name may be at home, before anything is computed."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import get_args, get_origin

from pydantic import BaseModel

from springgeo.explanation.asked import bare, written
from springgeo.explanation.leaves import LEFT_OUT
from springgeo.results.summary import Summary

# stands for any key of a mapping
_ANY = "*"


def homes(name: str) -> Iterator[tuple[int, tuple[str, ...]]]:
    """Yield how many parts a path that ends so may have, the least first, and in which sections.

    At last 0, and the section that the name begins with: parts between may be left out.
    """
    wanted = bare(written(name)).split(".")
    found: dict[int, list[str]] = {}
    for path in _paths():
        end = path[-len(wanted) :]
        if len(end) == len(wanted) and all(
            part in (_ANY, w) for part, w in zip(end, wanted, strict=True)
        ):
            found.setdefault(len(path), []).append(path[0])
    for length in sorted(found):
        yield length, tuple(dict.fromkeys(found[length]))
    yield 0, tuple(dict.fromkeys(path[0] for path in _paths() if path[0] == wanted[0]))


def known(name: str) -> bool:
    """Return whether the summary of some spring has a number whose path ends so."""
    wanted = tuple(bare(written(name)).split("."))
    return any(path[-len(wanted) :] == wanted for path in _paths())


@cache
def _paths() -> tuple[tuple[str, ...], ...]:
    """Return the paths that the numbers of a summary can have, without places in lists."""
    return tuple(_of(Summary, ()))


def _of(kind: object, path: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        for name, field in kind.model_fields.items():
            if name not in LEFT_OUT:
                yield from _of(field.annotation, (*path, name))
    elif kind in (int, float):
        yield path
    elif get_origin(kind) is dict:
        yield from _of(get_args(kind)[1], (*path, _ANY))
    else:
        for inner in get_args(kind):
            yield from _of(inner, path)

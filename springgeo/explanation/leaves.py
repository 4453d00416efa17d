"""All numbers of a summary by name: keys joined by dots, places in lists counted from 0."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from pydantic import BaseModel

from springgeo.explanation.quantities import Quantity, quantity

# what was given, and what says the same as its neighbours
LEFT_OUT = {"specification", "specification_text"}


class Leaf(NamedTuple):
    """A number of a summary.

    Attributes
    ----------
    path : str
    value : float
        It remembers how it was found if the summary was recorded.
    owner : object
        The result that holds it.
    field : str
    about : Quantity
    """

    path: str
    value: float
    owner: Any
    field: str
    about: Quantity


def leaves(summary: BaseModel | Mapping[str, object]) -> dict[str, Leaf]:
    """Return every number of a summary, or of sections of it by key, by its name."""
    every: Iterator[Leaf]
    if isinstance(summary, Mapping):
        every = (leaf for key, x in summary.items() for leaf in _of(x, key, summary, key))
    else:
        every = _of(summary, "", summary, "")
    return {leaf.path: leaf for leaf in every}


def _of(x: object, path: str, owner: object, field: str, parent: str = "") -> Iterator[Leaf]:
    if isinstance(x, bool) or x is None:
        return
    if isinstance(x, int | float):
        yield Leaf(path, x, owner, field, _about(owner, field, parent))
    elif isinstance(x, BaseModel):
        for name in type(x).model_fields:
            if name not in LEFT_OUT:
                yield from _of(getattr(x, name), _joined(path, name), x, name, field)
    elif isinstance(x, Mapping):
        for key, value in x.items():
            yield from _of(value, _joined(path, str(key)), owner, field, parent)
    elif isinstance(x, tuple | list):
        for i, value in enumerate(x):
            yield from _of(value, _joined(path, str(i)), owner, field, parent)


def _about(owner: object, field: str, parent: str) -> Quantity:
    name = "Summary" if isinstance(owner, Mapping) else type(owner).__name__
    found = quantity(name, field)
    if parent == "allowable":
        return found._replace(kind="stress", title=f"allowable stress, {found.title}")
    return found._replace(title=f"margin, {found.title}") if parent == "margin" else found


def _joined(path: str, name: str) -> str:
    return f"{path}.{name}" if path else name

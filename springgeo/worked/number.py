"""``Worked``: a number that remembers the step it was found by."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import AbstractContextManager, contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field, replace
from typing import Any, Literal, SupportsFloat, TypeGuard, cast

from springgeo.worked import expression as e
from springgeo.worked.docs import Argument
from springgeo.worked.expression import Node

# formula: one of the books or of the project; arithmetic: sums and ratios of what is named;
# given: by the specification; data: a row of a table or a published figure; read off: the
# centreline; solved: by iteration or equilibrium; choice: the least or greatest of several
Kind = Literal["formula", "arithmetic", "given", "data", "read off", "solved", "choice"]
Notes = tuple[str, ...]

_ON: ContextVar[bool] = ContextVar("recording", default=False)


def recording() -> bool:
    """Return whether somebody wants to know how numbers are found."""
    return _ON.get()


def recorded() -> AbstractContextManager[None]:
    """Let numbers remember how they are found, in the block."""
    return switched(True)


@contextmanager
def switched(on: bool) -> Iterator[None]:
    """Let numbers be recorded, or not, in the block."""
    before = _ON.set(on)
    try:
        yield
    finally:
        _ON.reset(before)


@dataclass(frozen=True, eq=False)
class Step:
    """How a number was found.

    Attributes
    ----------
    kind : str
    value : float
        In ``unit``.
    symbol, title, unit : str
    expression : Node or None
        The formula, with the names of ``operands``.
    operands : mapping of str to float
        What was put in, and what a solved or chosen value was found from; ``Worked`` where that
        was found by a step of its own.
    arguments : mapping of str to Argument
        What the operands are, with their ranges of validity.
    source, known : str
        Where the formula or value comes from, and how that is known.
    notes : tuple of str
        Method, place, evidence.
    more : callable, optional
        Returns fields that are worth computing only when somebody reads the step.
    """

    kind: Kind
    value: float
    symbol: str = ""
    title: str = ""
    unit: str = ""
    expression: Node | None = None
    operands: Mapping[str, float] = field(default_factory=dict)
    arguments: Mapping[str, Argument] = field(default_factory=dict)
    source: str = ""
    known: str = ""
    notes: Notes = ()
    more: Callable[[], Mapping[str, Any]] | None = None

    def full(self) -> Step:
        """Return the step with everything that can be said."""
        if self.more is None:
            return self
        with recorded():
            return replace(self, **self.more(), more=None)

    @property
    def inside(self) -> bool | None:
        """Whether all operands lie in their ranges; None where none is stated."""
        asked = [
            a.holds(self.operands[n])
            for n, a in self.arguments.items()
            if n in self.operands and (a.low is not None or a.high is not None)
        ]
        return all(asked) if asked else None


class Worked(float):
    """A float with the step that it was found by; arithmetic with it is recorded."""

    __slots__ = ("step",)
    step: Step

    def __add__(self, other: object) -> float:
        return _found(float.__add__, e.add, self, other)

    def __radd__(self, other: object) -> float:
        return _found(float.__add__, e.add, other, self)

    def __sub__(self, other: object) -> float:
        return _found(float.__sub__, _minus, self, other)

    def __rsub__(self, other: object) -> float:
        return _found(float.__sub__, _minus, other, self)

    def __mul__(self, other: object) -> float:
        return _found(float.__mul__, e.multiply, self, other)

    def __rmul__(self, other: object) -> float:
        return _found(float.__mul__, e.multiply, other, self)

    def __truediv__(self, other: object) -> float:
        return _found(float.__truediv__, e.divide, self, other)

    def __rtruediv__(self, other: object) -> float:
        return _found(float.__truediv__, e.divide, other, self)

    def __pow__(self, other: object, mod: None = None) -> float:
        return _found(float.__pow__, e.power, self, other)

    def __reduce__(self) -> tuple[object, ...]:
        return float, (float(self),)


def _minus(a: Node, b: Node) -> Node:
    return e.add(a, e.negative(b))


def worked(step: Step) -> Worked:
    """Return the number that a step found."""
    made = Worked(step.value)
    made.step = step
    return made


def number(x: SupportsFloat) -> float:
    """Return a float; of a number that remembers how it was found, that number."""
    return x if isinstance(x, Worked) else float(x)


def kept(x: object) -> object:
    """Return a value that remembers, or a tuple or mapping with one inside; None for others."""
    if isinstance(x, Worked):
        return x
    if isinstance(x, Mapping):
        return dict(x) if any(kept(v) is not None for v in x.values()) else None
    if isinstance(x, tuple | list):
        return tuple(x) if any(kept(v) is not None for v in x) else None
    return None


def _found(
    op: Callable[[float, float], float],
    node: Callable[[Node, Node], Node],
    a: object,
    b: object,
) -> float:
    if not (_plain(a) and _plain(b)):
        return cast("float", NotImplemented)
    value = op(float(a), float(b))
    if not _ON.get() or not isinstance(value, float):
        return value
    operands: dict[str, float] = {}
    # an iteration that a number has strayed into is no chain that anybody reads
    if not all(_short(x) for x in (a, b)):
        return value
    parts = [_part(x, operands) for x in (a, b)]
    unit = next((x.step.unit for x in (a, b) if isinstance(x, Worked) and x.step.unit), "")
    if node in (e.multiply, e.divide, e.power) and sum(isinstance(x, Worked) for x in (a, b)) > 1:
        unit = ""
    return worked(Step("arithmetic", value, unit=unit, expression=node(*parts), operands=operands))


def _plain(x: object) -> TypeGuard[float]:
    """Return whether this is a number of Python's own or one that remembers, not numpy's."""
    return type(x) in (float, int, Worked)


def _short(x: object) -> bool:
    return not isinstance(x, Worked) or x.step.expression is None or x.step.expression.small()


def _part(x: float, operands: dict[str, float]) -> Node:
    """Return an operand as a node; what has no name of its own is written out."""
    if not isinstance(x, Worked):
        return e.num(x)
    step = x.step
    if step.kind == "arithmetic" and not step.symbol and step.expression is not None:
        names = {n: _free(n, v, operands) for n, v in step.operands.items()}
        return e.renamed(step.expression, names)
    return e.name(_free(step.symbol or "x", x, operands))


def _free(symbol: str, x: float, operands: dict[str, float]) -> str:
    """Return a symbol that stands for this operand alone, and keep it."""
    found, i = symbol, 1
    while found in operands and operands[found] is not x:
        i += 1
        found = f"{symbol}_{i}"
    operands[found] = x
    return found


def told(x: SupportsFloat, kind: Kind, **what: Any) -> float:
    """Return a value with the step it was found by, if anybody asks; else the value alone.

    ``what`` are fields of ``Step``; a value that was worked out already keeps how, under a name.
    """
    if not _ON.get():
        return float(x)
    if isinstance(x, Worked) and kind in ("arithmetic", "formula"):
        return worked(replace(x.step, **what))
    return worked(Step(kind, float(x), **what))

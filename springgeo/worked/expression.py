"""Expressions: sums, products, quotients, powers and functions of named values."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

FUNCTIONS: dict[str, Callable[..., float]] = {
    "sqrt": math.sqrt,
    "exp": math.exp,
    "log": math.log,
    "log10": math.log10,
    "abs": abs,
    "min": min,
    "max": max,
}


@dataclass(frozen=True)
class Node:
    """A number, a name, or an operation on others.

    ``op`` is ``num``, ``name``, ``+``, ``*``, ``/``, ``^``, ``-`` (of one part) or a key of
    ``FUNCTIONS``.
    """

    op: str
    parts: tuple[Node, ...] = ()
    value: float = 0.0
    name: str = ""

    def small(self, most: int = 60) -> bool:
        """Return whether there are so few operations that somebody can read them."""
        left, found = [self], 0
        while left:
            found += 1
            if found > most:
                return False
            left += left.pop().parts
        return True


def num(value: float) -> Node:
    """Return a number."""
    return Node("num", value=float(value))


def name(text: str) -> Node:
    """Return a name; ``pi`` is the number."""
    return Node("name", name=text)


ONE = num(1.0)


def add(*terms: Node) -> Node:
    """Return a sum, sums among the terms taken apart."""
    flat = [p for t in terms for p in (t.parts if t.op == "+" else (t,))]
    kept = [t for t in flat if not (t.op == "num" and t.value == 0.0)]
    if not kept:
        return num(0.0)
    return kept[0] if len(kept) == 1 else Node("+", tuple(kept))


def negative(x: Node) -> Node:
    """Return ``-x``."""
    if x.op == "num":
        return num(-x.value)
    return x.parts[0] if x.op == "-" else Node("-", (x,))


def multiply(*factors: Node) -> Node:
    """Return a product as one quotient, equal factors as powers."""
    over = [p for f in factors for p in _factors(f.parts[0] if f.op == "/" else f)]
    under = [p for f in factors if f.op == "/" for p in _factors(f.parts[1])]
    top = _product(over)
    return top if not under else Node("/", (top, _product(under)))


def divide(x: Node, y: Node) -> Node:
    """Return ``x/y``; quotients in either are taken apart."""
    inverse = Node("/", (y.parts[1], y.parts[0])) if y.op == "/" else Node("/", (ONE, y))
    return multiply(x, inverse)


def power(x: Node, n: Node) -> Node:
    """Return ``x`` to the power of ``n``."""
    if n == ONE:
        return x
    if x.op == "^" and x.parts[1].op == n.op == "num":
        return Node("^", (x.parts[0], num(x.parts[1].value * n.value)))
    return Node("^", (x, n))


def function(kind: str, *arguments: Node) -> Node:
    """Return a function of ``FUNCTIONS``."""
    return Node(kind, arguments)


def _factors(x: Node) -> Iterable[Node]:
    return x.parts if x.op == "*" else (x,)


def _product(factors: Iterable[Node]) -> Node:
    powers: dict[Node, float | None] = {}
    for f in factors:
        base, n = f, 1.0
        if f.op == "^" and f.parts[1].op == "num":
            base, n = f.parts[0], f.parts[1].value
        if base != ONE:
            powers[base] = (powers.get(base) or 0.0) + n
    kept = [power(base, num(n or 0.0)) for base, n in powers.items()]
    kept.sort(key=lambda k: k.op != "num")  # numbers first, the rest in the order of the code
    if not kept:
        return ONE
    return kept[0] if len(kept) == 1 else Node("*", tuple(kept))


def renamed(x: Node, names: Mapping[str, str]) -> Node:
    """Return an expression with other names."""
    if x.op == "name":
        return name(names.get(x.name, x.name))
    return x if not x.parts else Node(x.op, tuple(renamed(p, names) for p in x.parts))


def names(x: Node) -> tuple[str, ...]:
    """Return the names in an expression, in order, without pi."""
    own = (x.name,) if x.op == "name" and x.name != "pi" else ()
    return tuple(dict.fromkeys((*own, *(n for p in x.parts for n in names(p)))))


def value(x: Node, values: Mapping[str, float]) -> float:
    """Return what an expression is with values for its names."""
    if x.op == "num":
        return x.value
    if x.op == "name":
        return math.pi if x.name == "pi" else float(values[x.name])
    parts = [value(p, values) for p in x.parts]
    if x.op == "+":
        return sum(parts)
    if x.op == "*":
        return math.prod(parts)
    if x.op == "/":
        return parts[0] / parts[1]
    if x.op == "^":
        return float(parts[0] ** parts[1])
    return -parts[0] if x.op == "-" else float(FUNCTIONS[x.op](*parts))

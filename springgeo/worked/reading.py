"""The expression of a formula, read from the code that computes it: there is no second copy."""

from __future__ import annotations

import ast
import inspect
import textwrap
from collections.abc import Callable, Mapping
from functools import cache

from springgeo.worked import expression as e
from springgeo.worked.expression import Node

# functions that hand a value on as it is
_SAME = {"asarray", "float", "array", "number"}
_CALLED = {"sqrt": "sqrt", "exp": "exp", "log": "log", "log10": "log10", "abs": "abs"}
_CALLED |= {"minimum": "min", "maximum": "max", "min": "min", "max": "max"}


class UnreadableError(Exception):
    """The code branches or loops: it is no formula in one line."""


@cache
def expressions(function: Callable[..., object]) -> Mapping[str, Node] | None:
    """Return what a function returns as expressions in its arguments; None where it is no formula.

    The key is empty for a number, the field's name for a named tuple.
    """
    signature = inspect.signature(function)
    try:
        return _of(function, {n: e.name(n) for n in signature.parameters})
    except (UnreadableError, OSError, TypeError):
        return None


def _of(function: Callable[..., object], held: Mapping[str, Node]) -> Mapping[str, Node]:
    function = inspect.unwrap(function)
    tree = ast.parse(textwrap.dedent(inspect.getsource(function))).body[0]
    if not isinstance(tree, ast.FunctionDef):
        raise UnreadableError
    return _Reader(dict(held), function.__globals__).body(tree.body)


class _Reader:
    def __init__(self, held: dict[str, Node], around: Mapping[str, object]) -> None:
        self.held, self.around = held, around

    def body(self, statements: list[ast.stmt]) -> Mapping[str, Node]:
        for s in statements:
            if isinstance(s, ast.Assign) and len(s.targets) == 1:
                target = s.targets[0]
                if not isinstance(target, ast.Name):
                    raise UnreadableError
                self.held[target.id] = self.one(s.value)
            elif isinstance(s, ast.With):
                return self.body(s.body)
            elif isinstance(s, ast.Return) and s.value is not None:
                return self.result(s.value)
            elif not (isinstance(s, ast.Expr) and isinstance(s.value, ast.Constant)):
                raise UnreadableError
        raise UnreadableError

    def result(self, x: ast.expr) -> Mapping[str, Node]:
        if isinstance(x, ast.Call):
            called = self._called(x.func)
            if isinstance(called, type) and hasattr(called, "_fields"):
                return dict(zip(called._fields, map(self.one, x.args), strict=True))
            if inspect.isfunction(called) and called.__name__ not in _SAME:
                return self._inside(called, x)
        return {"": self.one(x)}

    def one(self, x: ast.expr) -> Node:
        if isinstance(x, ast.Constant) and isinstance(x.value, int | float):
            return e.num(x.value)
        if isinstance(x, ast.Name):
            return self._name(x.id)
        if isinstance(x, ast.Attribute):
            if x.attr == "pi":
                return e.name("pi")
            raise UnreadableError
        if isinstance(x, ast.UnaryOp) and isinstance(x.op, ast.USub):
            return e.negative(self.one(x.operand))
        if isinstance(x, ast.BinOp):
            return self._binary(x.op, self.one(x.left), self.one(x.right))
        if isinstance(x, ast.Call):
            return self._call(x)
        raise UnreadableError

    def _name(self, text: str) -> Node:
        if text in self.held:
            return self.held[text]
        constant = self.around.get(text)
        if not isinstance(constant, int | float):
            raise UnreadableError
        return e.num(constant)

    @staticmethod
    def _binary(op: ast.operator, a: Node, b: Node) -> Node:
        if isinstance(op, ast.Add):
            return e.add(a, b)
        if isinstance(op, ast.Sub):
            return e.add(a, e.negative(b))
        if isinstance(op, ast.Mult):
            return e.multiply(a, b)
        if isinstance(op, ast.Div):
            return e.divide(a, b)
        if isinstance(op, ast.Pow):
            return e.power(a, b)
        raise UnreadableError

    def _call(self, x: ast.Call) -> Node:
        called = x.func.attr if isinstance(x.func, ast.Attribute) else getattr(x.func, "id", "")
        if called in _SAME:
            return self.one(x.args[0])
        if called == "hypot":
            two = e.num(2.0)
            return e.function("sqrt", e.add(*(e.power(self.one(a), two) for a in x.args)))
        if called == "true_divide":
            return e.divide(*map(self.one, x.args))
        if called in _CALLED:
            return e.function(_CALLED[called], *map(self.one, x.args))
        function = self._called(x.func)
        if not inspect.isfunction(function):
            raise UnreadableError
        found = self._inside(function, x)
        if "" not in found:
            raise UnreadableError
        return found[""]

    def _inside(self, function: Callable[..., object], x: ast.Call) -> Mapping[str, Node]:
        signature = inspect.signature(function)
        keywords = {k.arg: self.one(k.value) for k in x.keywords if k.arg}
        bound = signature.bind(*map(self.one, x.args), **keywords)
        held = {
            n: e.num(p.default) for n, p in signature.parameters.items() if p.default is not p.empty
        }
        return _of(function, {**held, **bound.arguments})

    def _called(self, x: ast.expr) -> object:
        if isinstance(x, ast.Name):
            return self.around.get(x.id)
        if isinstance(x, ast.Attribute) and isinstance(x.value, ast.Name):
            return getattr(self.around.get(x.value.id), x.attr, None)
        return None


def parsed(text: str) -> Node:
    """Return an expression from its Python form.

    Raises
    ------
    UnreadableError
        It holds anything but sums, products, powers and functions of names and numbers.
    """
    tree = ast.parse(text, mode="eval").body
    every = (n.id for n in ast.walk(tree) if isinstance(n, ast.Name))
    names = {n: e.name(n) for n in every if n not in e.FUNCTIONS}
    return _Reader(names, {}).one(tree)

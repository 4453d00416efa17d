"""Expressions written out: plain text, Python, LaTeX, Typst and MathML.

``names`` say what stands for each name: its symbol, or a value with its unit.
"""

from __future__ import annotations

from collections.abc import Mapping

from springgeo.worked.expression import Node, multiply

GREEK = {"tau": "τ", "sigma": "σ", "rho": "ρ", "kappa": "κ", "nu": "ν", "delta": "δ", "pi": "π"}
# how tightly an operation binds
_TIGHT = {"+": 1, "-": 2, "*": 3, "/": 3, "^": 5}


def figure(x: float) -> str:
    """Return a number of a formula, as short as it is exact enough to compute with."""
    if x.is_integer() and abs(x) < 1e10:
        return f"{x:.0f}"
    text = f"{x:.6g}"
    return text if "e" not in text else f"{x:.6f}".rstrip("0") if 1e-4 < abs(x) < 1 else text


def _figure(x: Node) -> bool:
    return x.op == "num" or (x.op == "^" and x.parts[0].op == "num")


def _apart(text: str) -> bool:
    """Return whether a name stands for a value with its unit."""
    return any(c.isspace() for c in text.strip())


def _without_sign(x: Node) -> Node:
    """Return what a minus stands before: of a product with a negative first factor, the rest."""
    if x.op == "num" and x.value < 0:
        return Node("num", value=-x.value)
    if x.op == "*" and _negative(x):
        return multiply(_without_sign(x.parts[0]), *x.parts[1:])
    return x


def _negative(x: Node) -> bool:
    return (x.op == "num" and x.value < 0) or (x.op == "*" and _negative(x.parts[0]))


class Plain:
    """``8 F D/(pi d^3)``; with ``dot`` between factors where values are put in."""

    # whether a fraction sets what it divides apart by itself
    stacked = False
    # between two figures
    sign = " * "
    quotient = "{}/{}"
    power, power_of_one_word = "{}^({})", "{}^{}"
    brackets = "({})"

    # what stands for the point of a figure that is written with a comma
    comma = ","

    def __init__(self, dot: str = " ", point: str = ".") -> None:
        self.dot, self.point = dot, point

    def write(self, x: Node, names: Mapping[str, str] | None = None) -> str:
        """Return an expression; ``names`` stand for names, symbols where left out."""
        return self._written(x, names or {}, 0)

    def symbol(self, name: str) -> str:
        """Return a name as a symbol."""
        return self._symbol(name)

    def _written(self, x: Node, names: Mapping[str, str], around: int) -> str:
        own = _TIGHT.get(x.op, 9)
        if x.op == "num":
            text = self._number(x.value)
            return self.brackets.format(text) if x.value < 0 and around > 1 else text
        if x.op == "name":
            text = names[x.name] if x.name in names else self._symbol(x.name)
            loose = 5 if self.stacked else 4
            return self.brackets.format(text) if around >= loose and _apart(text) else text
        text = self._operation(x, names, own)
        if x.op == "/" and self.stacked:
            return self.brackets.format(text) if around >= 5 else text
        return self.brackets.format(text) if own < around else text

    def _operation(self, x: Node, names: Mapping[str, str], own: int) -> str:
        def part(p: Node, around: int) -> str:
            return self._written(p, names, around)

        if x.op == "+":
            signed = [(p.op == "-", p.parts[0] if p.op == "-" else p) for p in x.parts]
            terms = [(minus or _negative(p), _without_sign(p)) for minus, p in signed]
            return self._plus([(minus, part(p, 2 if minus else 1)) for minus, p in terms])
        if x.op == "-":
            return self._plus([(True, part(x.parts[0], 3))])
        if x.op == "*":
            first, *rest = x.parts
            head = self._number(first.value) if _negative(first) else part(first, 3)
            return self._product([head, *(part(p, 3) for p in rest)], [_figure(p) for p in x.parts])
        if x.op == "/":
            top, under = (0, 0) if self.stacked else (3, own + 1)
            return self.quotient.format(part(x.parts[0], top), part(x.parts[1], under))
        if x.op == "^":
            return self._raised(part(x.parts[0], 6), part(x.parts[1], 0))
        return self._called(x.op, [part(p, 0) for p in x.parts])

    def _number(self, x: float) -> str:
        return self._figure(x)

    def _figure(self, x: float) -> str:
        return figure(x) if self.point == "." else figure(x).replace(".", self.comma)

    def _symbol(self, name: str) -> str:
        return name

    def _product(self, factors: list[str], figures: list[bool]) -> str:
        """Return factors side by side, with a sign between two figures."""
        text = factors[0]
        for i, factor in enumerate(factors[1:], start=1):
            text += (self.sign if figures[i - 1] and figures[i] else self.dot) + factor
        return text

    def _raised(self, base: str, n: str) -> str:
        one = n.replace(".", "").isalnum()
        return (self.power_of_one_word if one else self.power).format(base, n)

    def _called(self, kind: str, inner: list[str]) -> str:
        return f"{kind}({', '.join(inner)})"

    def _plus(self, terms: list[tuple[bool, str]]) -> str:
        first, *rest = terms
        text = f"-{first[1]}" if first[0] else first[1]
        return text + "".join(f" {'-' if minus else '+'} {t}" for minus, t in rest)


class Python(Plain):
    """``8*F*D/(pi*d**3)``: to be computed again."""

    sign = "*"
    power = power_of_one_word = "{}**({})"

    def __init__(self) -> None:
        super().__init__("*")

    def _number(self, x: float) -> str:
        return repr(int(x)) if x.is_integer() and abs(x) < 1e15 else repr(x)


class Latex(Plain):
    r"""For Markdown: ``\frac{8 F D}{\pi d^{3}}``."""

    stacked = True
    sign = r" \cdot "
    quotient = r"\frac{{{}}}{{{}}}"
    power = power_of_one_word = "{}^{{{}}}"
    brackets = r"\left({}\right)"

    comma = "{,}"

    def __init__(self, dot: str = r" \, ", point: str = ".") -> None:
        super().__init__(dot, point)

    def _symbol(self, name: str) -> str:
        head, _, tail = name.partition("_")
        head = rf"\{head}" if head in GREEK else head if len(head) == 1 else rf"\mathrm{{{head}}}"
        return f"{head}_{{\\mathrm{{{tail.replace('_', ',')}}}}}" if tail else head

    def _called(self, kind: str, inner: list[str]) -> str:
        if kind == "sqrt":
            return rf"\sqrt{{{inner[0]}}}"
        if kind == "abs":
            return rf"\left|{inner[0]}\right|"
        return rf"\{'ln' if kind == 'log' else kind}\left({', '.join(inner)}\right)"


class Typst(Plain):
    """For Typst: ``(8 F D)/(pi d^3)``."""

    stacked = True
    sign = " dot "
    quotient = "frac({}, {})"
    power_of_one_word = "{}^({})"
    brackets = "lr(({}))"

    def _figure(self, x: float) -> str:
        # a bare comma would set two figures
        text = super()._figure(x)
        return f'"{text}"' if "," in text else text

    def _symbol(self, name: str) -> str:
        head, _, tail = name.partition("_")
        head = head if head in GREEK or len(head) == 1 else f'"{head}"'
        return f'{head}_"{tail.replace("_", ",")}"' if tail else head

    def _called(self, kind: str, inner: list[str]) -> str:
        if kind in ("sqrt", "abs"):
            return f"{kind}({inner[0]})"
        return f'op("{"ln" if kind == "log" else kind}") lr(({", ".join(inner)}))'


class MathML(Plain):
    """For HTML: the inside of a ``math`` element."""

    stacked = True
    sign = "<mo>·</mo>"
    quotient = "<mfrac><mrow>{}</mrow><mrow>{}</mrow></mfrac>"
    power = power_of_one_word = "<msup><mrow>{}</mrow><mrow>{}</mrow></msup>"
    brackets = "<mrow><mo>(</mo>{}<mo>)</mo></mrow>"

    def __init__(self, dot: str = "<mo>\u2062</mo>", point: str = ".") -> None:
        super().__init__(dot, point)

    def _number(self, x: float) -> str:
        return f"<mn>{self._figure(x)}</mn>"

    def _symbol(self, name: str) -> str:
        head, _, tail = name.partition("_")
        first = f"<mi>{GREEK.get(head, head)}</mi>"
        rest = f"<mtext>{tail.replace('_', ',')}</mtext>"
        return f"<msub>{first}{rest}</msub>" if tail else first

    def _called(self, kind: str, inner: list[str]) -> str:
        if kind == "sqrt":
            # browsers without a font for mathematics draw no root of msqrt
            return f"<mo>√</mo><mrow><mo>(</mo>{inner[0]}<mo>)</mo></mrow>"
        listed = "<mo>,</mo>".join(inner)
        return f"<mi>{kind}</mi><mrow><mo>(</mo>{listed}<mo>)</mo></mrow>"

    def _plus(self, terms: list[tuple[bool, str]]) -> str:
        first, *rest = terms
        text = f"<mo>−</mo>{first[1]}" if first[0] else first[1]
        return text + "".join(f"<mo>{'−' if m else '+'}</mo>{t}" for m, t in rest)

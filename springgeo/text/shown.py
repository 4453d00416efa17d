"""What a reader sees: numbers in their units, texts in their language. One place for all outputs.

    shown = Shown("inch", "de")
    shown.length(37.82)                      '1,489 in'
    shown.force(25, digits=3)                '5,62 lbf'
    shown.say("free length {length}", length=length(37.82))
    shown.text(finding.message)

`said` makes a text now that is shown later (``springgeo.message.Message``); `word` marks one that
holds no value. The first argument of `said`, `say` and `word` is always a literal: it is the key of
the catalogues in ``languages/``, and a test finds every one of them there.
"""

from __future__ import annotations

import string
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import partialmethod
from typing import ClassVar, Literal, TypeAlias, TypedDict, Unpack, get_args

from springgeo.message import Message
from springgeo.text import number as typeset
from springgeo.text.catalogue import catalogue
from springgeo.text.figures import figures, outward, to_places, to_tolerance
from springgeo.text.quantity import FINER, UNITS, Quantity, Units, convert

Language = Literal["en", "de", "fr"]


class _How(TypedDict, total=False):
    places: int | None
    signed: bool
    unit: bool


# what stands in a template: a message or a plain text, a quantity with its unit, a plain number
Value: TypeAlias = Quantity | str | float
LANGUAGES: tuple[Language, ...] = get_args(Language)
# ISO 80000-1, 7.3.2 allows either sign; these are the usual ones of each language
DECIMAL = {"en": ".", "de": ",", "fr": ","}

# beyond these a number is read more easily with an exponent; none of a spring is, but cycles are
# counted in millions
_LEAST, _MOST, _COUNTED = 5e-6, 1e6, 1e9
# letters beside the quantities of what is still one value and no sentence
_SHORT = 8


@dataclass(frozen=True)
class Shown:
    """A reader's units and language.

    Attributes
    ----------
    units : {"mm", "inch"}
        mm, N, N/mm, MPa, °C; or in, lbf, lbf/in, ksi, °F.
    language : {"en", "de", "fr"}
    second : {"mm", "inch"} or None
        Units that follow in brackets: ``37.82 mm [1.489 in]``.
    typeset : bool
        A true minus, the sign of degrees, and thin spaces in long numbers, as on a page or a
        sheet; plain characters for a terminal if False.
    """

    units: Units = "mm"
    language: Language = "en"
    second: Units | None = None
    typeset: bool = False

    # quantities, in inside units -------------------------------------------------------------

    def of(self, kind: str, x: float, digits: int | None = None, **how: Unpack[_How]) -> str:
        """Return a value with its unit; ``how`` as in `springgeo.text.quantity.Quantity`."""
        return self.quantity(Quantity(kind, x, digits, **how))

    # mm, N, N/mm, MPa, kg (in g or oz), N mm (in mJ or lbf), degC, rad (in degrees)
    length: ClassVar[partialmethod[str]] = partialmethod(of, "length")
    force: ClassVar[partialmethod[str]] = partialmethod(of, "force")
    rate: ClassVar[partialmethod[str]] = partialmethod(of, "rate")
    stress: ClassVar[partialmethod[str]] = partialmethod(of, "stress")
    mass: ClassVar[partialmethod[str]] = partialmethod(of, "mass")
    energy: ClassVar[partialmethod[str]] = partialmethod(of, "energy")
    temperature: ClassVar[partialmethod[str]] = partialmethod(of, "temperature")
    angle: ClassVar[partialmethod[str]] = partialmethod(of, "angle")
    number: ClassVar[partialmethod[str]] = partialmethod(of, "number")

    def quantity(self, q: Quantity) -> str:
        """Return a quantity with its unit, and with that of the second system in brackets."""
        text = self._one(q, self.units)
        if self.second is None or UNITS[q.kind][self.units] == UNITS[q.kind][self.second]:
            return text
        return f"{text} [{self._one(q, self.second)}]"

    def value(self, q: Quantity) -> str:
        """Return the number of a quantity alone, without its unit."""
        return self._number(q, self.units)

    def unit(self, kind: str) -> str:
        """Return the unit that a kind of quantity is shown in."""
        return self._sign(kind, self.units)

    def convert(self, kind: str, x: float) -> float:
        """Return a value of the inside unit as a number of the unit shown."""
        return convert(kind, x, self.units)

    # texts -----------------------------------------------------------------------------------

    def text(self, text: str) -> str:
        """Return a text for this reader: a message is said again, a plain text looked up."""
        if isinstance(text, Message):
            return self._filled(text.template, dict(text.values))
        return self._word(text)

    def say(self, template: str, /, **values: Value) -> str:
        """Return a template, a literal, filled in for this reader.

        ``values``: `Quantity` with its unit, messages, plain texts and numbers as they are.
        """
        return self._filled(template, values)

    def _filled(self, template: str, values: Mapping[str, Value]) -> str:
        pattern = self._word(template)
        if not values:
            return pattern
        if self.second is not None and _is_one_value(template, values):
            units: tuple[Units, Units] = (self.units, self.second)
            one, other = (
                replace(self, units=u, second=None).say(template, **values) for u in units
            )
            return one if one == other else f"{one} [{other}]"
        return string.Formatter().vformat(
            pattern, (), {k: self._shown(v) for k, v in values.items()}
        )

    def _shown(self, value: Value) -> str:
        if isinstance(value, Quantity):
            return self.quantity(value)
        if isinstance(value, Message):
            return self.text(value)
        return str(value)

    def _word(self, text: str) -> str:
        if self.language == "en":
            return text
        return catalogue(self.language).get(text, text)

    def _one(self, q: Quantity, units: Units) -> str:
        sign = self._sign(q.kind, units) if q.unit else ""
        gap = "" if not sign or sign == "°" else "\u00a0" if self.typeset else " "
        return self._number(q, units) + gap + sign

    def _sign(self, kind: str, units: Units) -> str:
        sign = UNITS[kind][units].sign
        return sign if self.typeset else sign.replace("°", "deg")

    def _number(self, q: Quantity, units: Units) -> str:
        value = convert(q.kind, q.value, units)
        if q.bound is not None:
            value = outward(value, q.digits or 4, up=q.bound == "least")
        tiny = q.places is None and 0 < abs(value) < _LEAST
        if tiny or abs(value) >= (_COUNTED if q.kind == "number" else _MOST):
            text = f"{value:.{q.digits or 4}g}"
        elif q.places is not None:
            places = q.places + (FINER.get(q.kind, 0) if units == "inch" else 0)
            text = f"{round(value, places) + 0.0:.{places}f}"
        elif q.within is not None:
            text = to_tolerance(value, q.within * UNITS[q.kind][units].factor)
        elif q.kind == "length" and q.digits is None:
            text = to_places(value, 2 if units == "mm" else 3)
        else:
            text = figures(value, q.digits or 4)
        if q.signed and value > 0 and text.strip("0.") != "":
            text = f"+{text}"
        text = typeset.spaced(text) if self.typeset else text
        return text.replace(".", DECIMAL[self.language])


def _is_one_value(template: str, values: Mapping[str, Value]) -> bool:
    """Return whether quantities are read as one: ``{load} ±{off} at {length}``, not a sentence."""
    words = "".join(text for text, *_ in string.Formatter().parse(template))
    return len(words) <= _SHORT and sum(isinstance(v, Quantity) for v in values.values()) > 1


PLAIN = Shown()


def said(template: str, /, **values: Value) -> Message:
    """Return a text in English and millimetres that can be shown otherwise.

    Parameters
    ----------
    template : str
        A literal with a name in braces for every value.
    **values : Quantity, Message, str, int or float

    Examples
    --------
    >>> from springgeo.text.quantity import length
    >>> text = said("the gap is {gap}", gap=length(2.54))
    >>> text, Shown("inch").text(text)
    ('the gap is 2.54 mm', 'the gap is 0.1 in')
    """
    return Message(PLAIN.say(template, **values), template, values)


def together(*texts: Value, by: str = " ") -> Message:
    """Return texts and quantities one after the other, ``by`` between them."""
    names = {f"t{i}": text for i, text in enumerate(texts)}
    template = by.replace("{", "{{").replace("}", "}}").join(f"{{{name}}}" for name in names)
    return Message(PLAIN.say(template, **names), template, names)


def word(text: str) -> Message:
    """Return a text without values, marked for the catalogues."""
    return Message(text, text, {})

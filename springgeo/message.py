"""A text that remembers how it was said, so that it can be said in other units and languages."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Annotated, Any, Self

from pydantic import WrapValidator


class Message(str):
    """A text in English and millimetres, with the template and the values it was made of.

    It is that text to everything that compares, stores or prints it. ``springgeo.text.shown`` says
    it again for another reader; ``said`` there makes one.

    Attributes
    ----------
    template : str
        English, with a name in braces for every value: the key of the catalogues.
    values : mapping of str to Quantity, Message, str, int or float
        Quantities in inside units; a message is said again, a plain text stands as it is.
    """

    template: str
    values: Mapping[str, Any]

    def __new__(cls, text: str, template: str, values: Mapping[str, object]) -> Self:
        """Return the text with what it was made of."""
        made = super().__new__(cls, text)
        made.template, made.values = template, MappingProxyType(dict(values))
        return made

    def __reduce__(self) -> tuple[object, ...]:
        """Return what pickle and copy make it from again."""
        return Message, (str(self), self.template, dict(self.values))


def _kept(value: Any, handler: Any) -> Any:
    plain = handler(value)
    return value if isinstance(value, Message) else plain


# a field for texts: pydantic alone would make a plain text of a message
Text = Annotated[str, WrapValidator(_kept)]

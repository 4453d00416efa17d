"""Finds end styles: those of the entry-point group ``springgeo.ends``, in-tree ones included."""

from __future__ import annotations

from collections.abc import Mapping

from pydantic import ValidationError

from springgeo.ends.foreign import accepted, failed
from springgeo.ends.protocol import EndParameters, EndStyle
from springgeo.findings import Finding
from springgeo.plugins import PluginError, Plugins, contained

GROUP = "springgeo.ends"
_known: Plugins[EndStyle] = Plugins(GROUP, "end style", "end-style", "style", accepted)


def names() -> tuple[str, ...]:
    """Return the name of every style, usable or not; imports none of them."""
    return _known.names()


def styles() -> Mapping[str, EndStyle]:
    """Return every usable end style by name; imports all of them."""
    return _known.every()


def skipped() -> tuple[Finding, ...]:
    """Return a warning for every plug-in that could not be used; imports all of them."""
    return _known.skipped()


def get(name: str) -> EndStyle:
    """Return one style, importing no other; raises SpecError, with the nearest names."""
    return _known.get(name)


def register(style: EndStyle) -> EndStyle:
    """Make a style known while this process runs, as an entry point would; return it as used.

    Child processes, such as those of a family of springs, do not know it: install a package with
    an entry point for them.

    Raises
    ------
    SpecError
        It is no end style, or an installed one has its name.
    """
    return _known.register(style)


def parameters(style: EndStyle, values: Mapping[str, object]) -> EndParameters:
    """Return a style's parameters; raises pydantic's ValidationError, or SpecError.

    The latter where the model of a style from elsewhere fails instead of judging.
    """
    if _known.is_own(style.name):
        return style.parameters.model_validate(values)
    try:
        return contained(
            lambda: style.parameters.model_validate(values), passing=(ValidationError,)
        )
    except PluginError as exc:
        raise failed(style.name, exc) from exc

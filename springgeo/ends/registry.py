"""Finds end styles: those of the entry-point group ``springgeo.ends``, in-tree ones included."""

from __future__ import annotations

from collections.abc import Mapping

from pydantic import ValidationError

from springgeo.ends.foreign import accepted, failed
from springgeo.ends.protocol import EndParameters, EndStyle
from springgeo.plugins import PluginError, Plugins, contained

GROUP = "springgeo.ends"
_known: Plugins[EndStyle] = Plugins(GROUP, "end style", "end-style", "style", accepted)


names, styles, get, skipped = _known.names, _known.every, _known.get, _known.skipped


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

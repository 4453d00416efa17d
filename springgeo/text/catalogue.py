"""The catalogues of translations: gettext's .po files, read as they are."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.resources import files


@cache
def catalogue(language: str) -> Mapping[str, str]:
    """Return the texts of a language by their English template."""
    from babel.messages.pofile import read_po

    place = files(__package__).joinpath("languages", f"{language}.po")
    with place.open("rb") as file:
        found = read_po(file, locale=language)
    return {str(m.id): str(m.string) for m in found if m.id and m.string}

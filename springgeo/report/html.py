"""The page's templates: everything put into them is escaped, unless it was made here as markup."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import Any

from jinja2 import Environment, FunctionLoader, StrictUndefined
from markupsafe import Markup

__all__ = ["Markup", "render"]


def render(name: str, **values: Any) -> Markup:
    """Return a template of the ``templates`` folder, filled in.

    Parameters
    ----------
    name : str
        Of the file, less ``.html``.
    **values
        Plain text is escaped; ``Markup`` stands as it is.
    """
    return Markup(_environment().get_template(name).render(values))


@cache
def _environment() -> Environment:
    return Environment(
        loader=FunctionLoader(_text),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def _text(name: str) -> str:
    return files(__package__).joinpath("templates", f"{name}.html").read_text("utf-8")

"""The page's templates: everything put into them is escaped, unless it was made here as markup."""

from __future__ import annotations

from functools import cache, partial
from importlib.resources import files

from jinja2 import Environment, FunctionLoader, StrictUndefined
from markupsafe import Markup

__all__ = ["Markup", "render"]


def render(name: str, package: str = __package__, /, **values: object) -> Markup:
    """Return a template of the ``templates`` folder, filled in.

    Parameters
    ----------
    name : str
        Of the file, less ``.html``.
    package : str
        Whose folder; this one's templates are known to all.
    **values
        Plain text is escaped; ``Markup`` stands as it is.
    """
    return Markup(_environment(package).get_template(name).render(values))


@cache
def _environment(package: str) -> Environment:
    return Environment(
        loader=FunctionLoader(partial(_text, package)),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def _text(package: str, name: str) -> str:
    own = files(package).joinpath("templates", f"{name}.html")
    place = own if own.is_file() else files(__package__).joinpath("templates", f"{name}.html")
    return place.read_text("utf-8")

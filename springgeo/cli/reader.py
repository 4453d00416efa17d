"""Whose terminal it is: the units that an answer is printed in, asked for or those of the file."""

from __future__ import annotations

from collections.abc import Callable
from contextvars import ContextVar
from functools import wraps
from typing import TypedDict, get_args

import click

from springgeo.errors import FileError, SpecError
from springgeo.specification.making import Paper
from springgeo.text.quantity import SYSTEMS, Units
from springgeo.text.shown import Language, Shown
from springgeo.text.yaml_text import yaml_of

# what the command line and the file say, for answers and for refusals alike
_SAID: ContextVar[tuple[Units | None, Units | None]] = ContextVar("said", default=(None, None))


def forget() -> None:
    """Start anew: nobody has said anything."""
    _SAID.set((None, None))


def units_option(command: Callable[..., object]) -> Callable[..., object]:
    """Add ``--units`` to a command; what it says is known to `reader`."""
    return click.option(
        "--units",
        type=click.Choice(get_args(Units)),
        expose_value=False,
        callback=_ask,
        help="Print in mm, N, MPa or in in, lbf, ksi [those of the file, or mm]. JSON is in mm.",
    )(command)


def language_option(command: Callable[..., object]) -> Callable[..., object]:
    """Add ``--language`` to a command."""
    return click.option(
        "--language",
        type=click.Choice(get_args(Language)),
        help="English, German or French [that of the file, or en].",
    )(command)


def json_option(what: str = "") -> Callable[[Callable[..., object]], Callable[..., object]]:
    """Return a decorator that adds ``--json`` to a command that prints ``what``."""
    words = " ".join(["Print", *what.split(), "as JSON, in mm and N."])
    return click.option("--json", "as_json", is_flag=True, help=words)


def strict_option(command: Callable[..., object]) -> Callable[..., object]:
    """Add ``--strict`` to a command."""
    text = "Leave with 1 if any warning was found."
    return click.option("--strict", is_flag=True, help=text)(command)


class SheetAsked(TypedDict):
    """How a sheet is wanted, as the façade takes it."""

    paper: Paper | None
    units: Units | None
    language: Language | None
    both_units: bool


def sheet_options(command: Callable[..., object]) -> Callable[..., object]:
    """Add ``--paper``, ``--language``, ``--both-units`` to a command; gives a `SheetAsked`."""

    @wraps(command)
    def drawn(
        *, paper: Paper | None, language: Language | None, both_units: bool, **given: object
    ) -> object:
        sheet: SheetAsked = {
            "paper": paper,
            "units": asked(),
            "language": language,
            "both_units": both_units,
        }
        return command(sheet=sheet, **given)

    both = click.option(
        "--both-units", is_flag=True, help="The other system's values in brackets behind."
    )
    on = click.option(
        "--paper",
        type=click.Choice(get_args(Paper), case_sensitive=False),
        help="A sizes: first angle, metric tolerances; Letter: third angle, US tolerances "
        "[that of the file, or A4].",
    )
    return on(language_option(both(drawn)))


def _ask(_ctx: click.Context, _param: click.Parameter, value: Units | None) -> None:
    if value is not None:
        ask(value)


def ask(units: Units) -> None:
    """Take what the command line asks for: it goes before what a file says."""
    _SAID.set((units, _SAID.get()[1]))


def asked() -> Units | None:
    """Return the units that the command line asks for, if it does."""
    return _SAID.get()[0]


def of_file(units: Units) -> None:
    """Take what a file says."""
    _SAID.set((_SAID.get()[0], units))


def look_into(path: str, kind: str = "specification") -> None:
    """Take the units of a file that was refused, so that the refusal is in them."""
    try:
        said = yaml_of(path, kind).get("units")
    except (FileError, SpecError):
        return
    for units in SYSTEMS:
        if said == units:
            of_file(units)


def reader() -> Shown:
    """Return how this answer is shown."""
    line, file = _SAID.get()
    return Shown(line or file or "mm")

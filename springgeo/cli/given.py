"""Quantities given on the command line."""

from __future__ import annotations

import click

from springgeo.units import parse


def given(text: str | None, kind: str, option: str) -> float | None:
    """Return what an option says, in the inside unit of its kind; None where it was left out.

    Raises
    ------
    click.UsageError
        It is no such quantity; the message names the option.
    """
    if text is None:
        return None
    try:
        return parse(text, kind)
    except ValueError as exc:
        raise click.UsageError(f"{option}: {exc}") from None

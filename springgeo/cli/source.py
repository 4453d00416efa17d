"""Where a command gets its spring from: a file, a preset, or the default preset."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps

import click

from springgeo.api import Spring
from springgeo.cli.reader import look_into, of_file, units_option
from springgeo.errors import SpecError
from springgeo.specification.load import DEFAULT_PRESET, presets


@dataclass(frozen=True)
class Source:
    """What SPEC and ``--preset`` say: one of them, as a rule."""

    spec: str | None
    preset: str | None

    def spring(self, *, example: bool = False) -> Spring:
        """Return the spring; arguments, and what is raised, as for `spring_from`."""
        return spring_from(self.spec, self.preset, example=example)


def spec_argument(command: Callable[..., object]) -> Callable[..., object]:
    """Add the SPEC argument, ``--preset`` and ``--units`` to a command, which takes a `Source`."""

    @wraps(command)
    def sourced(*, spec: str | None, preset: str | None, **given: object) -> object:
        return command(source=Source(spec, preset), **given)

    example = click.option(
        "--preset", metavar="NAME", help="Use an embedded example instead of a file."
    )
    argument = click.argument("spec", required=False, metavar="SPEC")
    return argument(example(units_option(sourced)))


def spring_from(spec: str | None, preset: str | None, *, example: bool = False) -> Spring:
    """Return the spring named on the command line; its units are those of the answer.

    Arguments, and what is raised, as for `_spring`.
    """
    try:
        spring = _spring(spec, preset, example)
    except SpecError:
        if spec is not None:
            look_into(spec)
        raise
    of_file(spring.spec.units)
    return spring


def _spring(spec: str | None, preset: str | None, example: bool) -> Spring:
    """Return the spring named on the command line.

    ``example``: the default preset where none is named; an answer about it must not be taken for
    one about the user's spring, so that only a build has it.

    Raises
    ------
    UsageError
        Neither or both are named.
    SpecError, FileError
        The file cannot be read, or not made.
    """
    if spec is not None and preset is not None:
        raise click.UsageError("give either a file or --preset, not both")
    if spec is not None:
        return Spring.from_file(spec)
    if preset is None and not example:
        raise click.UsageError(
            "name a specification (springgeo new spring.yaml writes one to start from), or an "
            f"example with --preset: {', '.join(sorted(presets()))}"
        )
    return Spring.from_preset(DEFAULT_PRESET if preset is None else preset)

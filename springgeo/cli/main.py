"""Entry point: turns every expected failure into one line and an exit code.

Exit codes: 0 fine; 1 built, but a verdict fails and ``--strict`` was given; 2 bad input or a
file that cannot be read or written.
"""

from __future__ import annotations

import json
import os
import sys
from importlib import import_module

import click

from springgeo import __version__
from springgeo.errors import SpecError, SpringgeoError

# one module per command, loaded only when that command runs
_COMMANDS = (
    "build",
    "inspect",
    "prototype",
    "check",
    "stress",
    "fit",
    "assembly",
    "draw",
    "report",
    "size",
    "measure",
    "family",
    "ends",
    "materials",
    "new",
    "schema",
)


class _Lazy(click.Group):
    """A group whose commands live in modules of their own."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        if cmd_name not in _COMMANDS:
            return None
        command = import_module(f"springgeo.cli.commands.{cmd_name}").command
        assert isinstance(command, click.Command)
        return command


@click.command(
    cls=_Lazy,
    context_settings={"help_option_names": ["-h", "--help"]},
    invoke_without_command=True,
)
@click.version_option(__version__, prog_name="springgeo")
@click.pass_context
def _group(ctx: click.Context) -> None:
    """Helical extension springs: check a specification, build its true shape."""
    if ctx.invoked_subcommand is None:
        click.echo(ctx.get_help())


def main(args: list[str] | None = None) -> None:
    """Run a command and leave with its exit code."""
    sys.exit(run(sys.argv[1:] if args is None else args))


def run(args: list[str]) -> int:
    """Run a command and return its exit code; prints, never raises for bad input."""
    try:
        result = _group.main(args, prog_name="springgeo", standalone_mode=False)
        sys.stdout.flush()
        return int(result or 0)
    except click.exceptions.Exit as exc:
        return exc.exit_code
    except click.Abort:
        return _fail("interrupted", code=130)
    except click.ClickException as exc:
        return _fail(exc.format_message())
    except SpecError as exc:
        if "--json" in args:
            click.echo(json.dumps({"findings": [f.model_dump() for f in exc.findings]}))
        return _fail(*(f.line() for f in exc.findings))
    except BrokenPipeError:
        # the reader of a pipe went away: not an error, but Python would say so at exit
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except (SpringgeoError, MemoryError) as exc:
        return _fail(str(exc) or type(exc).__name__)


def _fail(*lines: str | None, code: int = 2) -> int:
    for line in lines:
        click.echo("springgeo: " + " ".join(str(line).split()), err=True)
    return code

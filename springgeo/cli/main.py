"""Entry point: turns every expected failure into one line and an exit code.

Exit codes: 0 fine; 1 built, but a verdict fails and ``--strict`` was given; 2 bad input or a
file that cannot be read or written; 3 the answer cannot be printed.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from contextlib import suppress
from importlib import import_module

import click

from springgeo.cli.output import OutputError, guarded, silence
from springgeo.cli.reader import forget, reader
from springgeo.errors import SpecError, SpringgeoError
from springgeo.findings import nearest
from springgeo.text.characters import shown
from springgeo.version import __version__

CANNOT_PRINT = 3
# one module per command, loaded only when that command runs; and the folder it is in
_COMMANDS = {
    "build": "files",
    "inspect": "answers",
    "prototype": "files",
    "check": "answers",
    "explain": "answers",
    "stress": "answers",
    "curve": "answers",
    "overload": "answers",
    "tolerance": "answers",
    "fit": "answers",
    "assembly": "files",
    "draw": "files",
    "making": "files",
    "report": "files",
    "note": "files",
    "compare": "answers",
    "watch": "answers",
    "open": "answers",
    "size": "search",
    "measure": "search",
    "recover": "search",
    "family": "search",
    "ends": "lists",
    "materials": "lists",
    "new": "lists",
    "schema": "lists",
}


class _Lazy(click.Group):
    """A group whose commands live in modules of their own."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in _COMMANDS:
            return None
        command = import_module(f"springgeo.cli.commands.{_COMMANDS[cmd_name]}.{cmd_name}").command
        assert isinstance(command, click.Command)
        if ctx.obj is not None:
            ctx.obj()
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        name = args[0]
        if name not in _COMMANDS and not name.startswith("-"):
            text = f"'{name[:60]}' is not a command; {nearest(name, _COMMANDS)}"
            raise click.UsageError(text, ctx)
        return super().resolve_command(ctx, args)


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


def run(args: list[str], loaded: Callable[[], None] | None = None) -> int:
    """Run a command and return its exit code; prints, never raises for bad input.

    ``loaded`` is called when the command's modules are there.
    """
    try:
        with guarded():
            code = _run(args, loaded)
            sys.stdout.flush()
            return code
    except BrokenPipeError:
        silence()  # the reader of a pipe went away: not an error
        return 0
    except OutputError as exc:
        silence()
        with suppress(OSError):
            return _fail(str(exc), code=CANNOT_PRINT)
        return CANNOT_PRINT


def _run(args: list[str], loaded: Callable[[], None] | None) -> int:
    forget()
    try:
        done = _group.main(args, prog_name="springgeo", standalone_mode=False, obj=loaded)
        return int(done or 0)
    except click.exceptions.Exit as exc:
        return exc.exit_code
    except click.Abort:
        return _fail("interrupted", code=130)
    except click.ClickException as exc:
        return _fail(exc.format_message())
    except SpecError as exc:
        if "--json" in args:
            click.echo(json.dumps({"findings": [f.model_dump() for f in exc.findings]}))
        return _fail(*(f.line(reader().text(f.message)) for f in exc.findings))
    except OutputError:
        raise
    except (SpringgeoError, MemoryError) as exc:
        return _fail(str(exc) or type(exc).__name__)


def _fail(*lines: str | None, code: int = 2) -> int:
    for line in lines:
        click.echo("springgeo: " + shown(" ".join(str(line).split())), err=True)
    return code

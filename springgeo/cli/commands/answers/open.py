"""``springgeo open``: the specification on a page of this machine, the spring following."""

from __future__ import annotations

import sys
import threading
import webbrowser
from pathlib import Path

import click

from springgeo.cli.reader import asked, language_option, units_option
from springgeo.errors import FileError
from springgeo.text.shown import Language, Shown


@click.command("open")
@click.argument("spec", metavar="SPEC")
@click.option("--no-browser", is_flag=True, help="Only print the page's address.")
@click.option(
    "--port", default=0, type=click.IntRange(0, 65535), metavar="N", help="[any free one]"
)
@units_option
@language_option
def command(spec: str, no_browser: bool, port: int, language: Language | None) -> int:
    """Open SPEC on a local page, to change and to see it.

    The file stays the truth: what is changed on the page is written into it, what another editor
    saves is shown. The page is served to this machine alone and ends with this command (Ctrl+C).
    """
    from springgeo.desk.desk import Desk
    from springgeo.desk.server import serve

    path = Path(spec).absolute()
    desk = Desk(path)
    if asked() is not None or language is not None:
        base = desk.reader()
        desk.shown = Shown(asked() or base.units, language or base.language, typeset=True)

    def opened(address: str) -> None:
        click.echo(f"{path.name} is on {address}")
        click.echo("the address opens once; Ctrl+C here ends the page", err=True)
        sys.stdout.flush()
        if not no_browser:
            threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()

    try:
        serve(desk, opened, port)
    except OSError as exc:
        raise FileError(f"port {port} cannot be used: {exc.strerror}") from None
    return 0

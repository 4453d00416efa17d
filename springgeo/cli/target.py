"""Where a command writes to: the name of a file or a folder, refused before anything is done."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from springgeo.text.characters import hidden

_Command = TypeVar("_Command", bound=Callable[..., object])
# what nobody calls a folder
_FILES = {
    *(
        "step",
        "stp",
        "stl",
        "3mf",
        "glb",
        "obj",
        "ply",
        "brep",
        "inp",
        "vtu",
        "msh",
        "json",
        "yaml",
        "yml",
        "csv",
    ),
    *("pdf", "svg", "dxf", "png", "html", "htm", "txt", "zip"),
}
if TYPE_CHECKING:
    _Base = click.ParamType[str]
else:
    _Base = click.ParamType  # older ones take no type


class _Target(_Base):
    name = "path"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        text = str(value)
        if not text.strip():
            self.fail(f"it is empty; name a {self.name}", param, ctx)
        if (sign := hidden(text)) is not None:
            self.fail(f"the name holds the character {sign}; leave it out", param, ctx)
        try:
            problem = self.problem(Path(text))
        except OSError as exc:
            problem = f"'{text[:80]}': {exc.strerror}"
        if problem:
            self.fail(problem, param, ctx)
        return text

    def problem(self, path: Path) -> str:
        raise NotImplementedError


class OutFile(_Target):
    """The name of a file to be written, with one of some endings."""

    name = "file"

    def __init__(self, *endings: str) -> None:
        self.endings = endings

    def problem(self, path: Path) -> str:
        """Return what is wrong with the name, or nothing."""
        if path.is_dir():
            return f"'{path}' is a folder; name a file in it, ending in {self.endings[0]}"
        if path.suffix.lower() not in self.endings:
            *some, last = self.endings
            return (
                f"'{path}' must end in {', '.join(some)} or {last}"
                if some
                else (f"'{path}' must end in {last}")
            )
        return ""


class OutFolder(_Target):
    """The name of a folder to write into; it is made if missing."""

    name = "folder"

    def problem(self, path: Path) -> str:
        """Return what is wrong with the name, or nothing."""
        if path.is_dir():
            return ""
        if path.exists():
            return f"'{path}' is a file, and a folder is needed; give another name"
        ending = path.suffix.lower().removeprefix(".")
        if ending in _FILES:
            return (
                f"'{path}' looks like a file, but the files go into a folder, named for the "
                f"spring; give the folder, such as '{path.with_suffix('')}'"
            )
        return ""


def out_file(
    *endings: str,
    default: str | None = None,
    says: str | None = None,
    metavar: str = "FILE",
) -> Callable[[_Command], _Command]:
    """Return what adds ``--out`` to a command that writes a file with one of some endings."""
    return _out(OutFile(*endings), default, says, metavar)


def out_folder(default: str, *, says: str) -> Callable[[_Command], _Command]:
    """Return what adds ``--out`` to a command that writes into a folder."""
    return _out(OutFolder(), default, says, "DIR")


def _out(
    kind: _Target, default: str | None, text: str | None, metavar: str
) -> Callable[[_Command], _Command]:
    return click.option(
        "-o",
        "--out",
        type=kind,
        default=default,
        show_default=default is not None,
        metavar=metavar,
        help=text,
    )

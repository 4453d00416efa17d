"""Text files as untrusted input: regular, bounded, UTF-8 with or without its mark."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import islice
from os import PathLike
from pathlib import Path
from typing import BinaryIO

from springgeo.errors import FileError
from springgeo.findings import nearest
from springgeo.text.characters import shown
from springgeo.text.safe_yaml import LARGEST

# names of a folder that are looked through for the one that was meant
_LOOKED_AT = 1000


def text_of(path: str | PathLike[str], largest: int = LARGEST) -> str:
    """Return the text of a file of at most ``largest`` bytes.

    Raises
    ------
    FileError
        It is not there (with the nearest name), is no regular file (a pipe could wait for ever),
        cannot be read, is larger, or is not UTF-8.
    """
    name = shown(str(path)[:200])
    data = bytes_of(path, largest)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise FileError(f"cannot read '{name}': not UTF-8 text; save it as UTF-8") from None


def bytes_of(path: str | PathLike[str], largest: int) -> bytes:
    """Return the contents of a regular file of at most ``largest`` bytes; raises FileError."""
    with opened(path) as file:
        data = file.read(largest + 1)
    if len(data) > largest:
        name = shown(str(path)[:200])
        raise FileError(f"cannot read '{name}': larger than {largest / 1e6:g} MB; split it")
    return data


@contextmanager
def opened(path: str | PathLike[str]) -> Iterator[BinaryIO]:
    """Give a regular file to read from; raises FileError for any other, or while it is read."""
    name = shown(str(path)[:200])
    try:
        # without waiting: opening a pipe that nobody writes to would never return
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0))
        kind = os.fstat(handle).st_mode
        if not stat.S_ISREG(kind):
            os.close(handle)
            what = "a directory" if stat.S_ISDIR(kind) else "no regular file"
            raise FileError(f"cannot read '{name}': it is {what}; name a file")
        with os.fdopen(handle, "rb") as file:
            yield file
    except FileError:
        raise
    except OSError as exc:
        raise FileError(f"cannot read '{name}': {_why(Path(path), exc)}") from None
    except ValueError as exc:
        if "null" not in str(exc):  # of the name; what the reader finds in the file is its own
            raise
        raise FileError(f"cannot read '{name}': {exc}") from None


def _why(path: Path, exc: OSError) -> str:
    reason = exc.strerror or str(exc)
    if not isinstance(exc, FileNotFoundError):
        return reason
    try:
        names = [p.name for p in islice(path.parent.iterdir(), _LOOKED_AT)]
    except FileNotFoundError:
        return f"{reason}; there is no folder '{shown(str(path.parent)[:200])}'"
    except OSError:
        return reason
    near = nearest(path.name, names)
    return f"{reason}; {shown(near)}" if near.startswith("did you mean") else reason

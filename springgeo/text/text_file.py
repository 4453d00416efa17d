"""Text files as untrusted input: regular, bounded, UTF-8 with or without its mark."""

from __future__ import annotations

import os
import stat
from itertools import islice
from os import PathLike
from pathlib import Path

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
    name = shown(str(path)[:200])
    try:
        # without waiting: opening a pipe that nobody writes to would never return
        handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0))
        with os.fdopen(handle, "rb") as file:
            if not stat.S_ISREG(os.fstat(handle).st_mode):
                raise FileError(f"cannot read '{name}': it is no regular file; name a file")
            data = file.read(largest + 1)
    except FileError:
        raise
    except (OSError, ValueError) as exc:  # a folder fails to open as a file
        raise FileError(f"cannot read '{name}': {_why(Path(path), exc)}") from None
    if len(data) > largest:
        raise FileError(f"cannot read '{name}': larger than {largest / 1e6:g} MB; split it")
    return data


def _why(path: Path, exc: OSError | ValueError) -> str:
    reason = getattr(exc, "strerror", None) or str(exc)
    if not isinstance(exc, FileNotFoundError):
        return reason
    try:
        names = [p.name for p in islice(path.parent.iterdir(), _LOOKED_AT)]
    except OSError:
        return f"{reason}; there is no folder '{shown(str(path.parent)[:200])}'"
    near = nearest(path.name, names)
    return f"{reason}; {shown(near)}" if near.startswith("did you mean") else reason

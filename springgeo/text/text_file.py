"""Text files as untrusted input: bounded, UTF-8 with or without its mark, refused in one line."""

from __future__ import annotations

from os import PathLike
from pathlib import Path

from springgeo.errors import FileError
from springgeo.text.safe_yaml import LARGEST


def text_of(path: str | PathLike[str], largest: int = LARGEST) -> str:
    """Return the text of a file of at most ``largest`` bytes.

    Raises
    ------
    FileError
        It cannot be read, is larger, or is not UTF-8.
    """
    shown = str(path)[:200]
    try:
        with Path(path).open("rb") as file:
            data = file.read(largest + 1)  # no more, whatever the size of a file or device
    except (OSError, ValueError) as exc:
        reason = getattr(exc, "strerror", None) or str(exc)
        raise FileError(f"cannot read '{shown}': {reason}") from None
    if len(data) > largest:
        raise FileError(f"cannot read '{shown}': larger than {largest / 1e6:g} MB; split it")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise FileError(f"cannot read '{shown}': not UTF-8 text; save it as UTF-8") from None

"""Files appear whole or not at all: written aside in the same folder, then renamed."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from springgeo.errors import FileError


@contextmanager
def staged(folder: str | os.PathLike[str]) -> Iterator[Path]:
    """Give a hidden folder to write into; at the end its files move to ``folder``.

    All of them are complete and on the disk before the first gets its name; after any error
    in the block none is published and the hidden folder is removed.

    Examples
    --------
    >>> with staged(folder) as stage:  # doctest: +SKIP
    ...     (stage / "spring.stl").write_bytes(data)
    ...     (stage / "spring.json").write_text(summary)

    Raises
    ------
    FileError
        The folder is missing or not writable, the disk is full, or a directory is in the way.
        Other exceptions of the block pass through; an ``OSError`` of it becomes a FileError.
    """
    place = Path(folder)
    with _explained(place):
        aside = Path(tempfile.mkdtemp(prefix=".springgeo-", dir=place))
    try:
        with _explained(place):
            yield aside
            _publish(aside, place)
    finally:
        shutil.rmtree(aside, ignore_errors=True)


def atomic_write(target: str | os.PathLike[str], data: bytes) -> None:
    """Write one file; a reader finds the old contents or the new, never a part.

    Raises
    ------
    FileError
        As for `staged`.
    """
    place = plain_target(target)
    with staged(place.parent) as stage:
        (stage / place.name).write_bytes(data)


def plain_target(target: str | os.PathLike[str]) -> Path:
    """Return the path of a file to be written, or raise FileError where a directory has it."""
    place = Path(target)
    if place.is_dir():
        raise FileError(f"cannot write {place}: it is a directory")
    return place


def _publish(aside: Path, place: Path) -> None:
    names = sorted(p.name for p in aside.iterdir() if p.is_file())
    for name in names:
        plain_target(place / name)
        _flush(aside / name)
    for name in names:
        os.replace(aside / name, place / name)  # noqa: PTH105
    with suppress(OSError):  # some file systems cannot flush a folder
        _flush(place)


@contextmanager
def _explained(place: Path) -> Iterator[None]:
    try:
        yield
    except FileError:
        raise
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise FileError(f"cannot write in {place}: {reason}") from error


def _flush(path: Path) -> None:
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)

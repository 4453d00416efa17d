"""Files appear whole or not at all: written aside in the same folder, then renamed."""

from __future__ import annotations

import os
import shutil
import sys
import tempfile
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

from springgeo.errors import FileError


@contextmanager
def staged(folder: str | os.PathLike[str], *, last: str = "") -> Iterator[Path]:
    """Give a hidden folder to write into; at the end its files move to ``folder``.

    All of them are complete and on the disk before the first gets its name; after any error
    in the block none is published and the hidden folder is removed. Where a rename fails, the
    old files come back. Runs that publish into one folder take turns.

    Parameters
    ----------
    folder : path
    last : str, optional
        The file of several that vouches for the others: an old one goes first, the new one
        comes last, so that a process killed in between leaves no such file.

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
            _publish(aside, place, last)
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


def _publish(aside: Path, place: Path, last: str) -> None:
    names = sorted((p.name for p in aside.iterdir() if p.is_file()), key=lambda n: (n == last, n))
    for name in names:
        plain_target(place / name)
        _flush(aside / name)
    with _turn(place), _kept(place, aside, names):
        if len(names) > 1 and last in names:
            (place / last).unlink(missing_ok=True)
        for name in names:
            os.replace(aside / name, place / name)  # noqa: PTH105
    with suppress(OSError):  # some file systems cannot flush a folder
        _flush(place)


@contextmanager
def _turn(place: Path) -> Iterator[None]:
    """Wait until no other run publishes here; the lock leaves no file and dies with its owner."""
    if sys.platform == "win32":
        yield
        return
    import fcntl

    with ExitStack() as stack:
        with suppress(OSError):  # a folder that cannot be listed, a network without locks
            handle = os.open(place, os.O_RDONLY)
            stack.callback(os.close, handle)
            fcntl.flock(handle, fcntl.LOCK_EX)
        yield


@contextmanager
def _kept(place: Path, aside: Path, names: list[str]) -> Iterator[None]:
    """Put the old files back if the block fails; where they cannot be kept, go on without."""
    old = Path(tempfile.mkdtemp(dir=aside))
    for name in names:
        with suppress(OSError):
            os.link(place / name, old / name)
    try:
        yield
    except BaseException:
        for name in names:
            with suppress(OSError):
                if (old / name).exists():
                    os.replace(old / name, place / name)  # noqa: PTH105
                elif not (aside / name).exists():
                    (place / name).unlink()
        raise


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

"""Files appear whole or not at all: written aside in the same folder, then renamed."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path

from springgeo.errors import FileError
from springgeo.publish.staging import NEW, flush, move, plan, staging, turn, unplan


@contextmanager
def staged(
    folder: str | os.PathLike[str], *, last: str = "", gone: Sequence[str] = ()
) -> Iterator[Path]:
    """Give a hidden folder to write into; at the end its files move to ``folder``.

    All of them are complete and on the disk before the first gets its name; after any error
    in the block none is published and the hidden folder is removed. Where a rename fails, the
    old files come back. Runs that publish into one folder take turns. After a kill every file is
    whole, old or new; where it fell between two renames, ``last`` is missing, and the next run
    that writes in the folder gives the rest their names before anything else.

    Parameters
    ----------
    folder : path
    last : str, optional
        The file of several that vouches for the others: an old one goes first, the new one
        comes last, so that a process killed in between leaves no such file.
    gone : sequence of str, optional
        Files of ``folder`` that would be wrong beside the new ones: they go with publication. It
        is read at the end of the block.

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
    with _explained(place), staging(place) as aside:
        yield aside / NEW
        _publish(aside, place, last, tuple(gone))


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


def _publish(aside: Path, place: Path, last: str, gone: tuple[str, ...]) -> None:
    files = (p.name for p in (aside / NEW).iterdir() if p.is_file())
    names = sorted(files, key=lambda n: (n == last, n))
    for name in names:
        plain_target(place / name)
        flush(aside / NEW / name)
    with turn(place):
        plan(aside, names, last, gone)
        with _kept(place, aside, [*gone, *names]):
            move(aside, place, names, last, gone)
    with suppress(OSError):  # some file systems cannot flush a folder
        flush(place)


@contextmanager
def _kept(place: Path, aside: Path, names: list[str]) -> Iterator[None]:
    """Put the old files back if the block fails; where they cannot be kept, go on without."""
    old = aside / "old"
    old.mkdir()
    for name in names:
        with suppress(OSError):
            os.link(place / name, old / name)
    try:
        yield
    except BaseException:
        unplan(aside)
        for name in names:
            with suppress(OSError):
                if (old / name).exists():
                    os.replace(old / name, place / name)  # noqa: PTH105
                elif not (aside / NEW / name).exists():
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

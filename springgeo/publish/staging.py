"""Hidden folders that files are made in: whose they are, and what becomes of one left behind.

A staging folder stands in the folder its files are for. It holds a mark, locked for as long as
its owner lives; the lock dies with the process, however that ends. A plan beside the mark says
that every file is complete and which names they get: from then on the files are as good as
published, and whoever comes next finishes what a killed owner could not.
"""

from __future__ import annotations

import json
import os
import shutil
import socket
import stat
import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

PREFIX = ".springgeo-"
MARK, PLAN, NEW = "owner", "plan", "new"
_KIND = "springgeo-staging/1"
# file systems whose locks are a process's own would let it take its own folders for abandoned
_alive: set[str] = set()


@contextmanager
def turn(place: Path) -> Iterator[bool]:
    """Wait until nobody else publishes in a folder; give whether that is certain.

    The lock leaves no file and dies with its owner; without locks nobody waits.
    """
    with ExitStack() as stack:
        certain = False
        if sys.platform != "win32":
            import fcntl

            with suppress(OSError):  # a folder that cannot be listed, a network without locks
                handle = os.open(place, os.O_RDONLY)
                stack.callback(os.close, handle)
                fcntl.flock(handle, fcntl.LOCK_EX)
                certain = True
        yield certain


@contextmanager
def staging(place: Path) -> Iterator[Path]:
    """Give a hidden folder in ``place``; remove it at the end, and before it what others left."""
    with ExitStack() as stack:
        with turn(place) as certain:
            if certain:
                clear(place)
            aside = Path(tempfile.mkdtemp(prefix=PREFIX, dir=place))
            stack.callback(shutil.rmtree, aside, ignore_errors=True)
            _alive.add(str(aside))
            stack.callback(_alive.discard, str(aside))
            # given up first: Windows removes no open file
            stack.callback(os.close, _mark(aside))
            (aside / NEW).mkdir()
        yield aside


def plan(aside: Path, names: Sequence[str], last: str, gone: Sequence[str] = ()) -> None:
    """Decide that the files of a staging folder get their names, in this order, and others go."""
    words = {"schema_version": _KIND, "names": list(names), "last": last, "gone": list(gone)}
    text = json.dumps(words)
    new = aside / f"{PLAN}.new"
    new.write_text(text, encoding="utf-8")
    flush(new)
    os.rename(new, aside / PLAN)  # noqa: PTH104
    with suppress(OSError):  # some file systems cannot flush a folder
        flush(aside)


def unplan(aside: Path) -> None:
    """Take the decision back."""
    with suppress(OSError):
        (aside / PLAN).unlink()


def move(
    aside: Path, place: Path, names: Sequence[str], last: str, gone: Sequence[str] = ()
) -> None:
    """Give files their names; the one that vouches for the others is missing meanwhile."""
    for name in (*gone, *([last] if last in names[1:] else [])):
        (place / name).unlink(missing_ok=True)
    for name in names:
        os.replace(aside / NEW / name, place / name)  # noqa: PTH105


def clear(place: Path) -> None:
    """Finish or remove the staging folders of owners that are gone; to be called in one's turn.

    Nobody else's: a folder is touched only with the mark inside, made by this user on this
    machine, and its lock free; or empty, as a run killed at its very start leaves it.
    """
    with suppress(OSError):
        for entry in list(os.scandir(place)):
            if entry.name.startswith(PREFIX) and entry.is_dir(follow_symlinks=False):
                with suppress(OSError):
                    _clear_one(Path(entry.path), place)


def flush(path: Path) -> None:
    """Write a file or folder to the disk."""
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _clear_one(aside: Path, place: Path) -> None:
    import fcntl

    if str(aside) in _alive or aside.lstat().st_uid != os.geteuid():
        return
    inside = {p.name for p in aside.iterdir()}
    if inside <= {f"{MARK}.new"}:
        shutil.rmtree(aside, ignore_errors=True)
        return
    if MARK not in inside:
        return
    handle = os.open(aside / MARK, os.O_RDWR | os.O_NOFOLLOW | os.O_NONBLOCK)
    try:
        if not stat.S_ISREG(os.fstat(handle).st_mode) or os.read(handle, 4096) != _words():
            return
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)  # its owner has it while alive
        if PLAN in inside:
            _finish(aside, place)
        shutil.rmtree(aside, ignore_errors=True)
    finally:
        os.close(handle)


def _finish(aside: Path, place: Path) -> None:
    """Give the files that a killed owner had left their names, as planned."""
    found = json.loads((aside / PLAN).read_text(encoding="utf-8"))
    names, gone = (
        [n for n in found.get(key, []) if os.path.basename(n) == n]  # noqa: PTH119
        for key in ("names", "gone")
    )
    left = [n for n in names if (aside / NEW / n).is_file()]
    move(aside, place, left, found["last"], gone)


def _mark(aside: Path) -> int:
    """Leave a mark in a new staging folder, locked before it has its name; return its handle."""
    new = aside / f"{MARK}.new"
    handle = os.open(new, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o600)
    with suppress(OSError):
        if sys.platform != "win32":
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    os.write(handle, _words())
    os.rename(new, aside / MARK)  # noqa: PTH104
    return handle


def _words() -> bytes:
    return json.dumps({"schema_version": _KIND, "host": socket.gethostname()}).encode()

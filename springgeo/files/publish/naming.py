"""Names of files and folders: safe everywhere, and folders taken away again after a failure."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from springgeo.errors import FileError

# written where none are asked for; the summary is written always, and last
DEFAULT_FORMATS = ("step", "stl")
# files of our own beside those of a spring, and names of devices on some systems
RESERVED = {"manifest", "member", "con", "prn", "aux", "nul"} | {
    f"{port}{n}" for port in ("com", "lpt") for n in range(10)
}


def file_stem(name: str) -> str:
    """Return a safe file name for a spring's name: ASCII letters, digits and dashes.

    ``-spring`` is added to a name that is `RESERVED`, so that no file overwrites another.
    """
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    stem = re.sub(r"[^A-Za-z0-9]+", "-", plain).strip("-").lower()[:80].strip("-")
    return f"{stem}-spring" if stem in RESERVED else stem or "spring"


def suffix(label: str) -> str:
    """Return a safe ending for the name of a state or a level of detail, such as ``25N``."""
    return re.sub(r"[^A-Za-z0-9.]+", "-", label).strip("-.")[:40]


@contextmanager
def made(folder: Path) -> Iterator[None]:
    """Make a folder and its parents; take away again what was made if the block fails."""
    try:
        missing = [p for p in (folder, *folder.parents) if not p.exists()]
    except OSError as exc:
        raise _explained(folder, exc) from None
    try:
        folder.mkdir(parents=True, exist_ok=True)
        yield
    except OSError as exc:
        _unmake(missing)
        if isinstance(exc, FileError):
            raise
        raise _explained(folder, exc) from None
    except BaseException:
        _unmake(missing)
        raise


def _explained(folder: Path, exc: OSError) -> FileError:
    reason = (exc.strerror or str(exc)).lower()
    return FileError(f"cannot make the folder '{folder}': {reason}")


def _unmake(folders: list[Path]) -> None:
    for folder in folders:
        with suppress(OSError):
            folder.rmdir()

"""The main job: build, check, and publish STEP, STL and summary together or not at all."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from springgeo.checks.centreline import centreline_checks
from springgeo.errors import BuildError, FileError
from springgeo.export.atomic import staged
from springgeo.mesh import tube_mesh
from springgeo.mesh.stl import stl_bytes
from springgeo.spring.model import SpringModel
from springgeo.summary import Summary
from springgeo.summary.build import summarise
from springgeo.summary.model import Check

# chord error of the STL in wire diameters
STL_CHORD = 0.01
Say = Callable[[str], None]


@dataclass(frozen=True)
class Bundle:
    """What was written, and the summary inside it."""

    files: tuple[Path, ...]
    summary: Summary


def export_bundle(
    model: SpringModel, folder: Path, *, overwrite: bool = True, say: Say = lambda _text: None
) -> Bundle:
    """Write ``<name>.step``, ``<name>.stl`` and ``<name>.json`` into ``folder``.

    Raises
    ------
    BuildError
        A check on the solid failed; nothing is written.
    FileError
        The folder cannot be written, or a file exists and ``overwrite`` is false.
    """
    from springgeo.checks.solid import checked_solid
    from springgeo.export.step_summary import step_check, write_step_summary

    stem = file_stem(model.spec.name)
    targets = [folder / f"{stem}.{kind}" for kind in ("step", "stl", "json")]
    if not overwrite:
        for target in targets:
            if target.exists():
                raise FileError(f"'{target}' exists; choose another folder, or allow overwriting")
    say("building the solid")
    solid, solid_checks, length = checked_solid(model)
    checks = (*centreline_checks(model), *solid_checks)
    require(checks)
    summary = summarise(model, checks, length)
    g = model.geometry
    say("meshing")
    mesh = tube_mesh(g.path, g.diameter / 2, STL_CHORD * g.diameter)
    with made(folder), staged(folder) as stage:
        say("writing")
        write_step_summary(stage / targets[0].name, solid, model, summary)
        require((step_check(stage / targets[0].name, model, summary),))
        (stage / targets[1].name).write_bytes(stl_bytes(mesh, stl_header(stem, summary)))
        (stage / targets[2].name).write_text(summary.json_text() + "\n", encoding="ascii")
    return Bundle(tuple(targets), summary)


@contextmanager
def made(folder: Path) -> Iterator[None]:
    """Make a folder and its parents; take away again what was made if the block fails."""
    missing = [p for p in (folder, *folder.parents) if not p.exists()]
    try:
        folder.mkdir(parents=True, exist_ok=True)
        yield
    except OSError as exc:
        _unmake(missing)
        if isinstance(exc, FileError):
            raise
        reason = (exc.strerror or str(exc)).lower()
        raise FileError(f"cannot make the folder '{folder}': {reason}") from None
    except BaseException:
        _unmake(missing)
        raise


def _unmake(folders: list[Path]) -> None:
    for folder in folders:
        with suppress(OSError):
            folder.rmdir()


def require(checks: tuple[Check, ...]) -> None:
    """Raise BuildError naming the first check that failed."""
    for c in checks:
        if not c.ok:
            raise BuildError(
                f"check '{c.name}' failed: {c.value:.4g} {c.unit} against "
                f"{c.bound:.4g} {c.unit} ({c.what}); nothing was written"
            )


def file_stem(name: str) -> str:
    """Return a safe file name for a spring's name: ASCII letters, digits and dashes."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    stem = re.sub(r"[^A-Za-z0-9]+", "-", plain).strip("-").lower()[:80].strip("-")
    return stem or "spring"


def stl_header(stem: str, summary: Summary) -> str:
    """Return the 80 characters an STL has for words: name, unit, digest of the summary."""
    return f"springgeo {stem[:34]} unit=mm summary={summary.digest()}"

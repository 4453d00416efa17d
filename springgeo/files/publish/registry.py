"""Finds file formats: those of the entry-point group ``springgeo.exporters``, in-tree included."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from springgeo.errors import FileError
from springgeo.files.publish.exporter import Exporter, ExportJob
from springgeo.findings import Finding
from springgeo.plugins import PluginError, Plugins, contained

GROUP = "springgeo.exporters"
# seconds that an exporter from elsewhere may take for one file
WRITE = 600.0


def names() -> tuple[str, ...]:
    """Return the name of every format, usable or not; imports none of them."""
    return _known.names()


def exporters() -> Mapping[str, Exporter]:
    """Return every usable format by name; imports all of them."""
    return _known.every()


def skipped() -> tuple[Finding, ...]:
    """Return a warning for every plug-in that could not be used; imports all of them."""
    return _known.skipped()


def get(name: str) -> Exporter:
    """Return one format, importing no other; raises SpecError, with the nearest names."""
    return _known.get(name)


def _accepted(thing: object, name: str, own: bool) -> Exporter:
    """Return a format as it is to be used; raises ValueError with what is wrong with it."""
    if not isinstance(thing, Exporter):
        raise ValueError("it is not an Exporter")
    if thing.name != name:
        raise ValueError(f"its name is '{thing.name}', its entry point '{name}'")
    if not (isinstance(thing.extension, str) and thing.extension.replace(".", "").isalnum()):
        raise ValueError(f"its extension '{thing.extension}' is not letters and digits")
    if not callable(thing.write) or not isinstance(thing.title, str):
        raise ValueError("its write cannot be called, or its title is not a text")
    return thing if own else replace(thing, write=lambda path, job: _write(thing, path, job))


def _write(exporter: Exporter, target: Path, job: ExportJob) -> None:
    """Write by somebody else's exporter; raises FileError or OSError, nothing else."""
    try:
        contained(lambda: exporter.write(target, job), WRITE, passing=(OSError,))
    except PluginError as exc:
        text = " ".join(f"format '{exporter.name}' failed: {exc}".split())
        raise FileError(f"cannot write {target.name}: {text}") from exc
    if target.is_symlink() or not target.is_file() or not target.stat().st_size:
        raise FileError(f"cannot write {target.name}: format '{exporter.name}' wrote no file")


_known: Plugins[Exporter] = Plugins(GROUP, "format", "format", "format", _accepted)

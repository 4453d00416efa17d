"""The main job: build, check, and publish all files of a spring together or not at all."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from springgeo.checks.checked import checked, checked_state
from springgeo.elements import Elements
from springgeo.errors import FileError
from springgeo.files.publish import registry
from springgeo.files.publish.detail import Detail
from springgeo.files.publish.exporter import Exporter, ExportJob, StateFacts
from springgeo.files.publish.manifest import NAME as MANIFEST
from springgeo.files.publish.manifest import contradicted, manifest_text
from springgeo.files.publish.naming import DEFAULT_FORMATS, file_stem, made, suffix
from springgeo.publish.atomic import staged
from springgeo.spring.geometry import Geometry
from springgeo.spring.model import SpringModel
from springgeo.summary import Summary

__all__ = ["Bundle", "NamedState", "export_bundle", "file_stem", "made"]

_LAST = "json"
Say = Callable[[str], object]


@dataclass(frozen=True)
class Bundle:
    """What was written, and the summary inside it."""

    files: tuple[Path, ...]
    summary: Summary


@dataclass(frozen=True, eq=False)
class NamedState:
    """A state to be written: what it is called, and its geometry."""

    facts: StateFacts
    geometry: Geometry


def export_bundle(
    model: SpringModel,
    folder: Path,
    *,
    overwrite: bool = True,
    say: Say = lambda _text: None,
    formats: Sequence[str] = DEFAULT_FORMATS,
    states: Sequence[NamedState] = (),
    detail: Detail = "exact",
    elements: Elements | None = None,
    summary: Summary | None = None,
) -> Bundle:
    """Write a spring into ``folder``: one file per format, ``<name>.json`` always among them.

    With ``states``, one file per format and state, ``<name>-<state>.<ending>``, and
    ``manifest.json`` with a hash of every file, published last; likewise ``<name>-light.stl``
    for a level of ``detail``. Nothing is published before all of it is complete; the last file
    appears when all others have: where it is missing, a run was killed. ``summary`` is the one
    without a solid, where somebody has it.

    Raises
    ------
    SpecError
        A format is unknown.
    BuildError
        A check on the solid failed; nothing is written.
    FileError
        The folder cannot be written, or a file exists and ``overwrite`` is false.
    """
    stem = file_stem(model.spec.name)
    exporters = [registry.get(name) for name in dict.fromkeys(formats) if name != _LAST]
    shown = list(states) or [NamedState(_free(model), model.geometry)]
    names = _names(stem, [s.facts.name for s in states], detail)
    last = MANIFEST if states or detail != "exact" else f"{stem}.json"
    files = [f"{name}.{e.extension}" for name in names for e in exporters]
    files = list(dict.fromkeys([*files, f"{stem}.json", last]))
    if not overwrite:
        _require_free(folder, files)
    shapes = [s.geometry for s in shown]
    models = [model if g is model.geometry else checked_state(model, g) for g in shapes]
    exact = any(e.exact for e in exporters)
    summed, solid = checked(model, say, exact=exact, summary=summary)
    gone: list[str] = []
    with made(folder), staged(folder, last=last, gone=gone) as stage:
        written: list[tuple[str, Exporter, ExportJob]] = []
        for state, here, name in zip(shown, models, names, strict=True):
            own = solid if here is model else None
            job = ExportJob(here, summed, name, state.facts, detail, elements or Elements(), own)
            for exporter in exporters:
                target = f"{name}.{exporter.extension}"
                say(f"writing {target}")
                exporter.write(stage / target, job)
                written.append((target, exporter, job))
        job = ExportJob(model, summed, stem, _free(model))
        registry.get(_LAST).write(stage / f"{stem}.json", job)
        if last == MANIFEST:
            text = manifest_text(stage, written, summed, f"{stem}.json")
            (stage / MANIFEST).write_text(text + "\n", encoding="ascii")
        elif contradicted(folder, stage):
            gone.append(MANIFEST)
    return Bundle(tuple(folder / name for name in files), summed)


def _free(model: SpringModel) -> StateFacts:
    return StateFacts("free", 0.0, model.geometry.length)


def _names(stem: str, states: list[str], detail: Detail) -> list[str]:
    level = [] if detail == "exact" else [detail]
    names = ["-".join([stem, suffix(state), *level]) for state in states]
    return names or ["-".join([stem, *level])]


def _require_free(folder: Path, files: list[str]) -> None:
    for name in files:
        if (folder / name).exists():
            raise FileError(
                f"'{folder / name}' exists; choose another folder, or allow overwriting"
            )

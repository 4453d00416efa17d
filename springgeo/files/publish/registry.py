"""Finds file formats: those of the entry-point group ``springgeo.exporters``, in-tree included."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.metadata import EntryPoint, entry_points

from springgeo.errors import SpecError
from springgeo.files.publish.exporter import Exporter
from springgeo.findings import Finding, error, nearest, warning

GROUP = "springgeo.exporters"


@cache
def _load() -> tuple[Mapping[str, Exporter], tuple[Finding, ...]]:
    exporters: dict[str, Exporter] = {}
    findings: list[Finding] = []
    # in-tree formats first, so that a stranger cannot take one of their names
    found = sorted(
        entry_points(group=GROUP),
        key=lambda e: (not e.value.startswith("springgeo."), e.name, e.value),
    )
    for entry in found:
        exporter, problem = _loaded(entry)
        if exporter is not None and entry.name in exporters:
            if exporter is exporters[entry.name]:
                continue
            problem = "another format already has this name"
        if exporter is None or problem:
            text = f"format '{entry.name}' ({entry.value}) is left out: {problem}"
            findings.append(warning("format-skipped", "format", " ".join(text.split())))
        else:
            exporters[entry.name] = exporter
    return dict(sorted(exporters.items())), tuple(findings)


def _loaded(entry: EntryPoint) -> tuple[Exporter | None, str]:
    try:
        exporter = entry.load()
    except Exception as exc:  # a plug-in may raise anything at import; it must not harm others
        return None, f"{type(exc).__name__}: {exc}"
    if not isinstance(exporter, Exporter):
        return None, "it is not an Exporter"
    if exporter.name != entry.name:
        return None, f"its name is '{exporter.name}', its entry point '{entry.name}'"
    if not exporter.extension.replace(".", "").isalnum():
        return None, f"its extension '{exporter.extension}' is not letters and digits"
    return exporter, ""


def exporters() -> Mapping[str, Exporter]:
    """Return every usable format by name."""
    return _load()[0]


def skipped() -> tuple[Finding, ...]:
    """Return a warning for every plug-in that could not be used, with the reason."""
    return _load()[1]


def get(name: str) -> Exporter:
    """Return one format; raises SpecError with the nearest names if there is none."""
    try:
        return exporters()[name]
    except (KeyError, TypeError):
        text = f"'{str(name)[:60]}' is not a format; {nearest(str(name), exporters())}"
        raise SpecError(error("unknown-format", "format", text)) from None

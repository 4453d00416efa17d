"""Finds end styles: those of the entry-point group ``springgeo.ends``, in-tree ones included."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.metadata import entry_points

from springgeo.ends.protocol import EndStyle
from springgeo.errors import SpecError
from springgeo.findings import Finding, error, nearest, warning

GROUP = "springgeo.ends"


@cache
def _load() -> tuple[Mapping[str, EndStyle], tuple[Finding, ...]]:
    styles: dict[str, EndStyle] = {}
    findings: list[Finding] = []
    # in-tree styles first, so that a stranger cannot take one of their names
    found = sorted(
        entry_points(group=GROUP),
        key=lambda e: (not e.value.startswith("springgeo."), e.name, e.value),
    )
    for entry in found:
        problem = None
        try:
            style = entry.load()
        except Exception as exc:  # a plug-in may raise anything at import; it must not harm others
            style, problem = None, f"{type(exc).__name__}: {exc}"
        if problem is None and not isinstance(style, EndStyle):
            problem = "it is not an EndStyle"
        elif problem is None and style.name != entry.name:
            problem = f"its name is '{style.name}', its entry point '{entry.name}'"
        elif problem is None and entry.name in styles:
            if style is styles[entry.name]:
                continue
            problem = "another end style already has this name"
        if problem:
            text = f"end style '{entry.name}' ({entry.value}) is left out: {problem}"
            findings.append(warning("end-style-skipped", "ends", " ".join(text.split())))
        else:
            styles[entry.name] = style
    return dict(sorted(styles.items())), tuple(findings)


def styles() -> Mapping[str, EndStyle]:
    """Return every usable end style by name."""
    return _load()[0]


def skipped() -> tuple[Finding, ...]:
    """Return a warning for every plug-in that could not be used, with the reason."""
    return _load()[1]


def get(name: str) -> EndStyle:
    """Return one style; raises SpecError with the nearest names if there is none."""
    try:
        return styles()[name]
    except (KeyError, TypeError):
        raise SpecError(
            error(
                "unknown-end-style",
                "style",
                f"'{' '.join(str(name)[:60].split())}' is not an end style; "
                f"{nearest(str(name), styles())}",
            )
        ) from None

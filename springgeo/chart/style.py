"""How each role of a diagram looks: its ink, width and dash; lines differ in dash as in hue."""

from __future__ import annotations

from typing import NamedTuple

from springgeo.colours import INKS, SERIES, Ink


class Style(NamedTuple):
    """Names of inks for the line and the fill, the line's width and dash in its drawing's units."""

    line: str = ""
    width: float = 2.0
    dash: tuple[float, ...] = ()
    fill: str = ""
    opacity: float = 1.0


STYLES: dict[str, Style] = {
    "shear": Style("shear"),
    "bending": Style("bending", dash=(7, 3)),
    "von-mises": Style("ink", 1.8, (2, 2.5)),
    "wire": Style("shear"),
    "handbook": Style("bending", dash=(7, 3)),
    "allowed": Style("soft", 1.4, (12, 4)),
    "limit-body": Style("shear"),
    "limit-hook": Style("bending", dash=(7, 3)),
    "thin": Style("soft", 1.2, (4, 4)),
    "leader": Style("soft", 0.8),
    "edge": Style("shear", 1.0),
    "stop": Style("soft", 1.0, (2, 2)),
    "limit": Style("bad", 1.2, (7, 3)),
    "zero": Style("soft", 1.0),
    "preferred": Style(fill="preferred"),
    "loop": Style(fill="loop"),
    "bend": Style(fill="bend"),
    "body": Style(fill="body"),
    "straight": Style(fill="card"),
    "unsafe": Style(fill="bad-back"),
    "point": Style("card", 1.5, fill="ink"),
    "hollow": Style("ink", 1.6, fill="card"),
    "mounted": Style("card", 1.5, fill="mounted"),
    "mounted-hollow": Style("mounted", 1.6, fill="card"),
    "mounted-line": Style("mounted", dash=(3, 2)),
    "here": Style("care", 3.0),
    **{f"series-{i}": Style(f"series-{i}", 1.6) for i in range(len(SERIES))},
}
BAR = Style("ink", 2.4)


def ink(name: str) -> Ink:
    """Return a named ink; those of a series are the same on any ground."""
    if name.startswith("series-"):
        colour = SERIES[int(name.removeprefix("series-"))]
        return Ink(colour, colour)
    return INKS[name]


def series(i: int) -> str:
    """Return the role of the i-th thing of several that merely differ."""
    return f"series-{min(i, len(SERIES) - 1)}"


def marked(role: str) -> Style:
    """Return how a mark of a role looks: a line's mark is filled with its ink."""
    style = STYLES[role]
    return style if style.fill else Style("card", 1.0, fill=style.line)


def sheet() -> str:
    """Return the styles as CSS rules for a page that names the inks as custom properties.

    A role's line has the class ``c-role``, its mark ``c-role mark``.
    """
    rules = []
    for role, style in STYLES.items():
        rules.append(f".c-{role} {{ {_rule(style)} }}")
        if not style.fill:
            rules.append(f".c-{role}.mark {{ {_rule(marked(role))} }}")
    return "\n".join([*rules, f".c-bar {{ {_rule(BAR)} }}", ""])


def _rule(style: Style) -> str:
    parts = [f"fill: {_ink(style.fill)}", f"stroke: {_ink(style.line)}"]
    if style.line:
        parts.append(f"stroke-width: {style.width:g}")
        dash = " ".join(f"{v:g}" for v in style.dash) or "none"
        parts.append(f"stroke-dasharray: {dash}")
    return "; ".join(parts)


def _ink(name: str) -> str:
    if not name:
        return "none"
    return ink(name).light if name.startswith("series-") else f"var(--{name})"

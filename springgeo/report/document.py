"""The frame of the page: one document with its own styles and scripts, and no way out.

The policy names the two scripts and the style sheet by their SHA-256, so nothing else runs:
neither what a specification might smuggle in, nor anything from a network.
"""

from __future__ import annotations

import base64
import hashlib
import json
from functools import cache
from importlib.resources import files
from typing import Any

from springgeo.chart.style import sheet
from springgeo.report.html import Markup, render
from springgeo.report.theme import theme

# in the order in which one needs another
SCRIPTS = (
    "vector",
    "camera",
    "hands",
    "shaders",
    "gl",
    "shapes",
    "stage",
    "wire",
    "view",
    "page",
)


@cache
def asset(name: str) -> str:
    """Return a file of the package's ``assets`` folder as text."""
    return files(__package__).joinpath("assets", name).read_text("utf-8")


def document(title: str, body: Markup, data: dict[str, str], language: str = "en") -> str:
    """Return the whole page.

    Parameters
    ----------
    title : str
        Plain text.
    body : Markup
    data : dict of id to str
        JSON texts for the scripts.
    language : str
        Of the page.
    """
    style = theme() + sheet() + asset("page.css") + asset("print.css")
    early = asset("theme.js")
    late = "".join(asset(f"{name}.js") for name in SCRIPTS)
    policy = (
        f"default-src 'none'; script-src {_digest(early)} {_digest(late)}; "
        f"style-src {_digest(style)}; img-src data:; connect-src 'none'; "
        "base-uri 'none'; form-action 'none'"
    )
    return render(
        "document",
        policy=Markup(policy),
        title=title,
        language=language,
        style=Markup(style),
        early=Markup(early),
        late=Markup(late),
        body=body,
        data={name: Markup(inert(text)) for name, text in data.items()},
    )


def json_of(value: Any) -> str:
    """Return compact JSON, ASCII only."""
    return json.dumps(value, ensure_ascii=True, allow_nan=False, separators=(",", ":"))


def inert(text: str) -> str:
    """Return JSON in which nothing can end the script element that holds it.

    The signs that HTML knows are written as JSON's own escapes, so parsing gives the same value.
    """
    for sign in "<>&":
        text = text.replace(sign, f"\\u{ord(sign):04x}")
    return text


def _digest(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"

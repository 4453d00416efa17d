"""The frame of the page: one document with its own styles and scripts, and no way out.

The policy names the two scripts and the style sheet by their SHA-256, so nothing else runs:
neither what a specification might smuggle in, nor anything from a network.
"""

from __future__ import annotations

import base64
import hashlib
import html
import json
import re
from functools import cache
from importlib.resources import files
from typing import NamedTuple

from springgeo.chart.style import sheet
from springgeo.report.html import Markup, render
from springgeo.report.theme import theme

# in the order in which one needs another
VIEW = (
    "place",
    "vector",
    "camera",
    "hands",
    "shaders",
    "gl",
    "shapes",
    "stage",
    "wire",
    "view",
    "curve",
    "reader",
)


class Sign(NamedTuple):
    """A picture beside the page, as wide as the page's number: the one thing it may look at."""

    name: str
    number: int

    def svg(self) -> str:
        """Return the picture."""
        return f'<svg xmlns="http://www.w3.org/2000/svg" width="{self.number}" height="1"/>'


@cache
def asset(name: str, package: str = __package__) -> str:
    """Return a file of a package's ``assets`` folder, this one's if not said, as text."""
    return files(package).joinpath("assets", name).read_text("utf-8")


def style_sheet() -> str:
    """Return what every page looks like."""
    return theme() + sheet() + asset("page.css") + asset("print.css")


def view_scripts() -> str:
    """Return what every page with a view runs, before its own script."""
    return "".join(asset(f"{name}.js") for name in VIEW)


def document(
    title: str,
    body: Markup,
    data: dict[str, str],
    language: str = "en",
    *,
    script: str = "",
    style: str = "",
    sign: Sign | None = None,
    asks: bool = False,
) -> str:
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
    script, style : str, optional
        The page's own behaviour, the report's if left out, and what it looks like beside that.
    asks : bool
        Whether it may ask the server that it came from, and it alone.
    sign : Sign, optional
        Where the page is written again and again: it loads itself anew when the sign changes.
    """
    style = style_sheet() + style
    early = asset("theme.js")
    late = view_scripts() + (script or asset("page.js"))
    images, asked = ("data: blob:", "'self'") if asks else ("data:", "'none'")
    if sign is not None:
        late += asset("again.js")
        data = data | {"sign": json_of(sign._asdict())}
        images = "data: file: 'self'"
    policy = (
        f"default-src 'none'; script-src {_digest(early)} {_digest(late)}; "
        f"style-src {_digest(style)}; img-src {images}; "
        f"connect-src {asked}; base-uri 'none'; form-action 'none'"
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


def policy_of(page: str) -> str:
    """Return the policy that a page states, for a header that states it too."""
    found = re.search(r'Content-Security-Policy" content="([^"]*)"', page)
    assert found
    return html.unescape(found[1])


def json_of(value: object) -> str:
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

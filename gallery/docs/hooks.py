"""Formulas between dollar signs become MathML: every browser shows it, nothing is loaded.

And a site opened as files has no search box, which could not search there.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from latex2mathml.converter import convert
from mkdocs.exceptions import PluginError

_BLOCK = re.compile(r"^\$\$(.+?)\$\$$", re.MULTILINE | re.DOTALL)
_INLINE = re.compile(r"(?<![\\$`\w])\$([^$\n]+?)\$(?![\w$])")
_ROOT = re.compile(r"<msqrt>(.*?)</msqrt>")
_CODE = re.compile(r"(^```.*?^```|`[^`\n]+`)", re.MULTILINE | re.DOTALL)


def on_page_markdown(markdown: str, **_: Any) -> str:
    """Return the page's Markdown with its formulas as MathML, code left alone."""
    parts = _CODE.split(markdown)
    return "".join(part if i % 2 else _formulas(part) for i, part in enumerate(parts))


def _formulas(text: str) -> str:
    def block(m: re.Match[str]) -> str:
        return f"<div>{_one_line(convert(m.group(1).strip(), display='block'))}</div>"

    def inline(m: re.Match[str]) -> str:
        # in a span, so that a line that begins with a formula stays in its paragraph
        return f"<span>{_one_line(convert(m.group(1)))}</span>"

    return _INLINE.sub(inline, _BLOCK.sub(block, text))


def _one_line(mathml: str) -> str:
    """Return MathML on one line; roots with a sign, for fonts that have no stretching one."""
    flat = " ".join(mathml.split())
    return _ROOT.sub(r"<mrow><mo>√</mo><mo>(</mo><mrow>\1</mrow><mo>)</mo></mrow>", flat)


def on_post_build(config: Any, **_: Any) -> None:
    """Take the search box off pages opened as files: these may start no worker, and it fails."""
    place = Path(config.site_dir) / "search" / "main.js"
    text, start = place.read_text("utf-8"), "if (!window.Worker) {\n  console.log"
    if start not in text:
        raise PluginError("the search script has no place to look whether the page is a file")
    gone = "if (location.protocol === 'file:') {\n  $('[role=search]').hide();\n} else "
    place.write_text(text.replace(start, gone + start), "utf-8")

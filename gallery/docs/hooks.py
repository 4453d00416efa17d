"""Formulas between dollar signs become MathML: every browser shows it, nothing is loaded."""

from __future__ import annotations

import re
from typing import Any

from latex2mathml.converter import convert

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
        return _one_line(convert(m.group(1)))

    return _INLINE.sub(inline, _BLOCK.sub(block, text))


def _one_line(mathml: str) -> str:
    """Return MathML on one line; roots with a sign, for fonts that have no stretching one."""
    flat = " ".join(mathml.split())
    return _ROOT.sub(r"<mrow><mo>√</mo><mo>(</mo><mrow>\1</mrow><mo>)</mo></mrow>", flat)

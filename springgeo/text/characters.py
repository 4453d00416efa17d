"""Characters that do not show: control characters and marks that turn the direction of writing."""

from __future__ import annotations

import re

# C0 and C1 controls, line and paragraph separators, surrogates, and the marks that turn text round
# (Unicode Standard Annex 9): they move a cursor, hide words, or cannot be written at all
_HIDDEN = re.compile(
    "[\x00-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufeff]"
)
_KEPT = re.compile("[\n\t]")


def hidden(text: str) -> str | None:
    r"""Return the first character of ``text`` that does not show, as ``\x1b``, or None."""
    found = _HIDDEN.search(text)
    return None if found is None else _escape(found)


def shown(text: str, lines: bool = False) -> str:
    r"""Return ``text`` with every hidden character written out.

    Parameters
    ----------
    text : str
    lines : bool
        Leave line feeds and tabs as they are.

    Examples
    --------
    >>> shown("a\x1b[2Jb")
    'a\\x1b[2Jb'
    """
    return _HIDDEN.sub(lambda m: m[0] if lines and _KEPT.match(m[0]) else _escape(m), text)


def _escape(found: re.Match[str]) -> str:
    code = ord(found[0])
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}"

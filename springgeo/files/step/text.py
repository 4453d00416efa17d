r"""Text that survives a STEP file: plain ASCII without backslash, readable and reversible.

Part 21 has its own code for other characters, but raw UTF-8 breaks independent readers, and
the kernel neither writes nor reads the code reliably. Every character outside the printable
ASCII range, the backslash and the apostrophe become ``{U+00FC}`` and the like; a literal ``{U+``
becomes ``{U+007B}U+``. The apostrophe because the kernel wraps long strings between the two that
stand for one, and then cannot read its own file.
"""

from __future__ import annotations

import re

from OCP.TCollection import TCollection_HAsciiString

_CODE = re.compile(r"\{U\+([0-9A-F]{4,6})\}")
# the kernel's reader gives up on one string of 16 kB, and well before that takes a time that grows
# with the square of a string's length: strings of 8 kB were a seventh of the time of 200 coils
_LONGEST = 400
_ODD = re.compile(r"[^ -&(-~]|\\|\{(?=U\+)")


def escape(text: str) -> str:
    """Return ``text`` in printable ASCII without backslash and apostrophe."""
    return _ODD.sub(lambda found: f"{{U+{ord(found[0]):04X}}}", text)


def unescape(text: str) -> str:
    """Return what `escape` was given."""
    return _CODE.sub(lambda found: chr(int(found[1], 16)), text)


def kernel_text(text: str) -> TCollection_HAsciiString:
    """Return the kernel's string for any text, escaped."""
    return TCollection_HAsciiString(escape(text))


def slices(text: str) -> list[str]:
    """Return ``text`` cut where its escaped form would be too long for one string."""
    cut: list[str] = []
    start = 0
    while start < len(text) or not cut:
        part = text[start : start + _LONGEST]
        while (size := _size(part)) > _LONGEST:
            part = part[: max(1, len(part) * _LONGEST // size)]
        cut.append(part)
        start += len(part)
    return cut


def _size(text: str) -> int:
    # a brace may gain seven characters once its neighbours are seen
    return len(escape(text)) + 7 * text.count("{")

"""What to change where a place is stressed too much."""

from __future__ import annotations

from springgeo.message import Message
from springgeo.text.shown import word


def cure(name: str) -> Message:
    """Return what to change for a kind of stress."""
    if name == "body_shear":
        return word("use thicker wire or a smaller coil, or lower the load")
    if name == "hook_bending":
        return word("use a smaller loop radius or thicker wire, or lower the load")
    return word("enlarge bend_radius, use thicker wire, or lower the load")

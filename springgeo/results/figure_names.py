"""What the figures of a summary are called, and of which kind they are."""

from __future__ import annotations

from springgeo.message import Message
from springgeo.text.shown import word

# by the keys of `GeometryFacts`
GEOMETRY_WORDS: dict[str, tuple[Message, str]] = {
    "wire_diameter": (word("wire diameter d"), "length"),
    "mean_diameter": (word("mean diameter D"), "length"),
    "outer_diameter": (word("outer diameter"), "length"),
    "index": (word("index D/d"), "number"),
    "body_coils": (word("body coils"), "number"),
    "body_length": (word("body length"), "length"),
    "hook_length_first": (word("hook length, first end"), "length"),
    "hook_length_second": (word("hook length, second end"), "length"),
    "free_length": (word("free length inside hooks"), "length"),
    "wire_length": (word("wire length"), "length"),
    "mass": (word("mass"), "mass"),
}
# by the keys of a working point's margins
MARGIN_WORDS = {
    "body_shear": word("margin, body"),
    "hook_bending": word("margin, hook bending"),
    "hook_torsion": word("margin, hook torsion"),
}

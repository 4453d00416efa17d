"""MJCF: the curve as tendons side by side, each a straight spring beyond its own length.

A tendon whose ``springlength`` is a dead band "0 L" pulls with its stiffness beyond L and not at
all below. Tendons side by side add up, so that one for each point of the table, with the change of
slope there as its stiffness, pulls as the table does between straight lines; where the curve bends
over, as at the knee of the initial tension, a stiffness is negative. Source: the reference of the
format, elements tendon/spatial: stiffness, springlength.
"""

from __future__ import annotations

from collections.abc import Sequence
from xml.sax.saxutils import escape

import numpy as np

from springgeo.handover.table import LoadTable

FIRST, SECOND = "first_end", "second_end"


def mjcf_text(
    table: LoadTable, name: str, words: Sequence[str], pins: tuple[float, float] = (0.0, 0.0)
) -> str:
    """Return the file, to be included in a model with the sites ``first_end``, ``second_end``.

    ``pins``, mm: diameters of pins in whose middles the sites stand; else the sites are the
    contacts inside the hooks. Metres and newtons.
    """
    change = 1000 * np.diff(np.concatenate([[0.0], table.slopes]))
    place = (table.length[:-1] - sum(pins) / 2) / 1000
    lines = ["<mujocoinclude>", f"  <!-- {_comment(' '.join(words))} -->"]
    lines += [f"  <tendon><!-- {_comment(name)} -->"]
    for i, (stiffness, at) in enumerate(zip(change.tolist(), place.tolist(), strict=True)):
        lines += [
            f'    <spatial name="{name}-{i + 1}" stiffness="{stiffness:.12g}" '
            f'springlength="0 {at:.12g}">',
            f'      <site site="{FIRST}"/><site site="{SECOND}"/>',
            "    </spatial>",
        ]
    return "\n".join([*lines, "  </tendon>", "</mujocoinclude>", ""])


def _comment(text: str) -> str:
    """Return a text as it may stand in a comment of XML, in ASCII."""
    plain = escape(text).encode("ascii", "replace").decode("ascii")
    while "--" in plain:
        plain = plain.replace("--", "-")
    return plain.rstrip("-")

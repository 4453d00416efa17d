"""Which elements, and how large: what may be chosen of a mesh for finite elements."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, get_args

from springgeo.errors import SpecError
from springgeo.findings import error
from springgeo.text import quantity as q
from springgeo.text.shown import said

Kind = Literal["hex20", "hex8", "beams"]
KINDS: tuple[Kind, ...] = get_args(Kind)
# elements along a side of the section's core where no size is given
USUAL = 3
# the core's width over the wire's diameter, about
CORE_WIDTH = 0.46
# what a solver on one machine and a file of a gigabyte still hold
MOST_NODES = 2_000_000


@dataclass(frozen=True)
class Elements:
    """What the wire is divided into.

    Attributes
    ----------
    kind : "hex20", "hex8" or "beams"
        Hexahedra of 20 or of 8 nodes, or beams of three nodes along the centreline.
    size : float or None, mm
        Of an element across the wire; a seventh of its diameter or so if left out. Beams are
        four times as long.

    Raises
    ------
    SpecError
        Another kind, or a size that is not above zero.
    """

    kind: Kind = "hex20"
    size: float | None = None

    def __post_init__(self) -> None:
        if self.kind not in KINDS:
            raise SpecError(
                error("bad-value", "elements", f"'{str(self.kind)[:40]}' is not {_named(KINDS)}")
            )
        if self.size is not None and not (math.isfinite(self.size) and self.size > 0):
            raise SpecError(
                error("bad-value", "element_size", f"{self.size} is not a length above zero")
            )

    def core(self, diameter: float) -> int:
        """Return the elements along a side of the section's core.

        At least one; two of straight edges, whose rim were a square else.
        """
        if self.size is None:
            return USUAL
        return max(
            2 if self.kind == "hex8" else 1, round(min(CORE_WIDTH * diameter / self.size, 1e4))
        )

    def across(self, diameter: float) -> float:
        """Return the size of an element across the wire, mm."""
        return CORE_WIDTH * diameter / self.core(diameter)

    def require(self, nodes: float, diameter: float) -> None:
        """Refuse more nodes than can be used; raises SpecError."""
        if nodes <= MOST_NODES:
            return
        better = self.across(diameter) * max(1.1, (nodes / MOST_NODES) ** (1 / 3) * 1.1)
        raise SpecError(
            error(
                "too-many-nodes",
                "element_size",
                said(
                    "elements of {size} across need about {nodes} nodes, more than {most}; choose "
                    "a larger size, such as {better}, or beams",
                    size=q.length(self.across(diameter), 3),
                    nodes=q.number(nodes, 2),
                    most=f"{MOST_NODES:,}",
                    better=q.length(better, 2),
                ),
            )
        )


def _named(words: tuple[str, ...]) -> str:
    return f"{', '.join(words[:-1])} or {words[-1]}"

"""What was told held against what was found another way: the worst of each question, and where."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt


@dataclass
class Worst:
    """The worst disagreement of one question: in units of ``near``, what is allowed."""

    near: float
    count: int = 0
    worst: float = 0.0
    seed: int = -1
    words: str = ""


@dataclass
class Compared:
    """Disagreements by what was compared; ``seed`` is that of the spring under examination."""

    seed: int = 0
    found: dict[str, Worst] = field(default_factory=dict)
    failed: dict[str, list[str]] = field(default_factory=lambda: defaultdict(list))

    def number(self, what: str, told: object, own: object, near: float, *, of: float = 0.0) -> None:
        """Compare numbers, relative to the greater of the own one and ``of``; None with None."""
        row = self.found.setdefault(what, Worst(near))
        row.count += 1
        if told is None or own is None:
            off = 0.0 if told is own else math.inf
        else:
            a, b = float(told), float(own)  # type: ignore[arg-type]
            scale = max(abs(b), of)
            off = abs(a - b) / scale if scale else (0.0 if a == b else math.inf)
            if math.isnan(off):
                off = math.inf
        if off > row.worst:
            row.worst, row.seed, row.words = off, self.seed, f"{told} told, {own} found"
        if off > near:
            self.failed[what].append(f"seed {self.seed}: {told} told, {own} found")

    def array(
        self, what: str, told: npt.ArrayLike, own: npt.ArrayLike, near: float, of: float
    ) -> None:
        """Compare arrays of one shape by their greatest difference, relative to ``of``."""
        a, b = np.asarray(told, float), np.asarray(own, float)
        off = float(np.abs(a - b).max(initial=0.0)) if a.shape == b.shape else math.inf
        self.number(what, off, 0.0, near, of=of)

    def same(self, what: str, told: object, own: object) -> None:
        """Compare what is no number, or must be the same to the last digit."""
        row = self.found.setdefault(what, Worst(0.0))
        row.count += 1
        if told != own:
            row.worst, row.seed, row.words = math.inf, self.seed, f"{told!r} told, {own!r} found"
            self.failed[what].append(f"seed {self.seed}: {told!r} told, {own!r} found")

    def lines(self) -> list[str]:
        """Return a table of the worst of each question."""
        lines = [f"{'question':52} {'asked':>6} {'worst':>9} {'allowed':>8}  seed"]
        for what, row in self.found.items():
            bad = "  <-- " + row.words if what in self.failed else ""
            lines.append(
                f"{what:52} {row.count:6d} {row.worst:9.2g} {row.near:8.1g}  {row.seed}{bad}"
            )
        return lines

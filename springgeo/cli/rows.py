"""A plain-text table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence


def rows(table: Sequence[Sequence[str]], indent: str = "  ") -> Iterator[str]:
    """Yield aligned lines; the first column is text, the others stand to the right."""
    widths = [max(len(row[i]) for row in table) for i in range(len(table[0]))]
    for row in table:
        cells = [
            c.ljust(w) if i == 0 else c.rjust(w)
            for i, (c, w) in enumerate(zip(row, widths, strict=True))
        ]
        yield (indent + "  ".join(cells)).rstrip()

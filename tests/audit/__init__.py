"""What is told, asked again another way: ``python -m tests.audit --count 20 --seed 1``."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from tests.stability.wild import Random

from . import bench, bodies, columns, mating, mounted, note, page, size, straying, worked
from .compared import Compared

# by name: what is told, held against what is found another way
QUESTIONS: dict[str, Callable[[Random, Compared, Path], None]] = {
    "columns": columns.examine,
    "straying": straying.examine,
    "bench": bench.examine,
    "bodies": bodies.examine,
    "mating": mating.examine,
    "mounted": mounted.examine,
    "page": page.examine,
    "worked": worked.examine,
    "note": note.examine,
    "size": size.examine,
}

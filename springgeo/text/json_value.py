"""What JSON can hold."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TypeAlias

# as it is written; whoever reads one has to look what it is
Json: TypeAlias = "bool | int | float | str | Sequence[Json] | Mapping[str, Json] | None"

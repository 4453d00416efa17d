"""Which number of a summary a name means: the whole of it, or its end."""

from __future__ import annotations

import re
from collections.abc import Iterable

from springgeo.errors import SpecError
from springgeo.findings import error, nearest

_SHOWN = 6


def named(name: str, paths: Iterable[str]) -> str:
    """Return the path that a name means.

    ``hook_bending`` means the shortest path that ends so; of those that differ in the places of
    lists alone, the last, which is that of the highest load.

    Raises
    ------
    SpecError
        None ends so (the nearest are offered), or several that are equally short.
    """
    every = list(paths)
    wanted = re.sub(r"\[(-?\d+)\]", r".\1", name.strip()).strip(".").casefold()
    folded = {p.casefold(): p for p in every}
    if wanted in folded:
        return folded[wanted]
    ends = [p for f, p in folded.items() if f.endswith(f".{wanted}")]
    if not ends:
        # places in lists may be left out
        ends = [p for p in every if f".{_bare(p)}".casefold().endswith(f".{wanted}")]
    if not ends:
        # or anything between
        ends = [p for p in every if _between(wanted.split("."), p.casefold().split("."))]
    if not ends:
        words = {_bare(p) for p in every} | {p.rpartition(".")[2] for p in every}
        text = f"'{name[:60]}' is no number of the summary; {_near(wanted, words)}"
        raise SpecError(error("unknown-quantity", "quantity", text))
    least = min(_bare(p).count(".") for p in ends)
    last = {_bare(p): p for p in ends if _bare(p).count(".") == least}
    if len(last) > 1:
        shown = ", ".join(list(last.values())[:_SHOWN])
        text = f"'{name[:60]}' is several numbers; name one of them: {shown}"
        raise SpecError(error("several-quantities", "quantity", text))
    return next(iter(last.values()))


def _between(wanted: list[str], parts: list[str]) -> bool:
    """Return whether the parts hold those wanted in this order, from the first to the last."""
    if len(wanted) < 2 or wanted[0] != parts[0] or wanted[-1] != parts[-1]:
        return False
    rest = iter(parts)
    return all(w in rest for w in wanted)


def _bare(path: str) -> str:
    return re.sub(r"\.\d+(?=\.|$)", "", path)


def _near(word: str, words: set[str]) -> str:
    found = nearest(word, sorted(w for w in words if not w.isdigit()))
    if found.startswith("did you mean"):
        return found
    return "springgeo explain SPEC lists them all"

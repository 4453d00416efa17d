"""Which number of a summary a name means: the whole of it, or its end."""

from __future__ import annotations

import re
from collections.abc import Iterable

from springgeo.errors import SpecError
from springgeo.findings import error, nearest

_SHOWN = 6


def named(name: str, paths: Iterable[str], *, elsewhere: bool = False) -> str:
    """Return the path that a name means.

    ``hook_bending`` means the shortest path that ends so; of those that differ in the places of
    lists alone, the last, which is that of the highest load. ``elsewhere``: other springs have it.

    Raises
    ------
    SpecError
        None ends so (the nearest are offered), or several that are equally short.
    """
    every = list(paths)
    wanted = written(name)
    folded = {p.casefold(): p for p in every}
    if wanted in folded:
        return folded[wanted]
    # places in lists may be left out
    ends = [p for f, p in folded.items() if f.endswith(f".{wanted}") or _ends(p, wanted)]
    if not ends:
        # or anything between
        ends = [p for p in every if _between(wanted.split("."), p.casefold().split("."))]
    if not ends and elsewhere:
        text = (
            f"'{name[:60]}' is nothing that this spring has: it needs what the specification does "
            "not give (service.loads or lengths, a duty, mating parts, or published data of the "
            "wire)"
        )
        raise SpecError(error("quantity-not-here", "quantity", text))
    if not ends:
        words = {bare(p) for p in every} | {p.rpartition(".")[2] for p in every}
        text = f"'{name[:60]}' is no number of the summary; {_near(wanted, words)}"
        raise SpecError(error("unknown-quantity", "quantity", text))
    least = min(bare(p).count(".") for p in ends)
    last = {bare(p): p for p in ends if bare(p).count(".") == least}
    if len(last) > 1:
        shown = ", ".join(list(last.values())[:_SHOWN])
        text = f"'{name[:60]}' is several numbers; name one of them: {shown}"
        raise SpecError(error("several-quantities", "quantity", text))
    return next(iter(last.values()))


def written(name: str) -> str:
    """Return a name as it was typed, places in lists after dots, in small letters."""
    return re.sub(r"\[(-?\d+)\]", r".\1", name.strip()).strip(".").casefold()


def answered(name: str, paths: Iterable[str], parts: int) -> bool:
    """Return whether a path of so many parts ends so; 0: whether one holds these in their order.

    Places in lists are not counted.
    """
    wanted = bare(written(name))
    if not parts:
        return any(_between(wanted.split("."), p.casefold().split(".")) for p in paths)
    return any(_ends(p, wanted) and bare(p).count(".") == parts - 1 for p in paths)


def _ends(path: str, wanted: str) -> bool:
    return f".{bare(path)}".casefold().endswith(f".{wanted}")


def _between(wanted: list[str], parts: list[str]) -> bool:
    """Return whether the parts hold those wanted in this order, from the first to the last."""
    if len(wanted) < 2 or wanted[0] != parts[0] or wanted[-1] != parts[-1]:
        return False
    rest = iter(parts)
    return all(w in rest for w in wanted)


def bare(path: str) -> str:
    """Return a path without places in lists."""
    return re.sub(r"\.\d+(?=\.|$)", "", path)


def _near(word: str, words: set[str]) -> str:
    found = nearest(word, sorted(w for w in words if not w.isdigit()))
    if found.startswith("did you mean"):
        return found
    return "springgeo explain SPEC lists them all"

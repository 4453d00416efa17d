"""The answer on an overload as rows, from the least to the greatest elastic limit; every output."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from springgeo.message import Message
from springgeo.results.overload import AtLimit, Overload
from springgeo.text.quantity import Quantity
from springgeo.text.shown import said, word

TITLE = word("Overload and set, an estimate")
FROM, TO = word("from"), word("to")
THROUGH, CAUTION = word("yields through"), word("Caution")


class Row(NamedTuple):
    """Words, where the value stands in `AtLimit`, and of what kind it is."""

    words: str
    path: str
    kind: str

    def of(self, side: AtLimit) -> Quantity | None:
        """Return the value; None without one."""
        value: object = side
        for name in self.path.split("."):
            value = None if value is None else getattr(value, name)
        # a set is not worth more than three figures
        return Quantity(self.kind, value, 3) if isinstance(value, float) else None


def overload_rows(o: Overload) -> Iterator[Row]:
    """Yield the rows: the limits, what was asked for, and the load that costs length."""
    yield Row(word("elastic limit in tension"), "tension", "stress")
    yield Row(word("elastic limit in torsion"), "torsion", "stress")
    if o.load is not None or o.length is not None:
        yield Row(word("load"), "set.load", "force")
        yield Row(word("length under it"), "set.length", "length")
        yield Row(word("free length gained"), "set.lengthened", "length")
        yield Row(word("of the free length"), "set.share_percent", "percent")
        yield Row(word("first hook opened by"), "set.opened_first", "length")
        yield Row(word("second hook opened by"), "set.opened_second", "length")
        yield Row(word("initial tension left"), "set.initial_tension", "force")
    yield Row(costing(o), "costs.load", "force")
    yield Row(word("length it draws to"), "costs.length", "length")


def costing(o: Overload) -> Message:
    """Return the name of the load that costs a share of the length."""
    percent = Quantity("percent", o.costs_percent)
    return said("load that costs {percent} of the length", percent=percent)


def limits(o: Overload) -> Message:
    """Return where the elastic limits come from."""
    return said("Elastic limits: {source} ({known}).", source=word(o.source), known=word(o.known))

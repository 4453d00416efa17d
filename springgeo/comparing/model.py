"""Several springs in columns: what each specification says, and what follows from it."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from springgeo.api import Spring
from springgeo.errors import SpecError
from springgeo.findings import error
from springgeo.message import Message
from springgeo.results.figure_names import GEOMETRY_WORDS, MARGIN_WORDS
from springgeo.text import quantity as q
from springgeo.text.shown import Shown, word
from springgeo.units import BARE

SCHEMA = "springgeo-comparison/1"
# columns that a page still has room for
MOST = 7
# relative: nearer numbers are the same
_ALIKE = 1e-9

# what is compared, in the order of reading: the place in the summary, the words, the kind
_FACTS: tuple[tuple[str, Message, str], ...] = (
    ("material.title", word("material"), ""),
    *((f"geometry.{key}", *said) for key, said in GEOMETRY_WORDS.items()),
    ("rates.handbook", word("rate, handbook"), "rate"),
    ("rates.small_load", word("rate, small load"), "rate"),
    ("initial_tension.force", word("initial tension"), "force"),
    ("initial_tension.stress", word("initial-tension stress (uncorrected)"), "stress"),
    ("points.-1.load", word("highest load"), "force"),
    ("along_the_wire.points.-1.length", word("length at the highest load"), "length"),
    ("mounted.-1.load", word("highest load, as mounted"), "force"),
    ("mounted.-1.length", word("length at the highest load, as mounted"), "length"),
    *(
        (f"along_the_wire.points.-1.margin.{key}", words, "number")
        for key, words in MARGIN_WORDS.items()
    ),
    ("verdict.margin", word("least margin of both methods"), "number"),
    ("fatigue.margin", word("least fatigue factor"), "number"),
    ("pull.travel_stop", word("travel stop at"), "length"),
    ("pull.travel_stop_load", word("load at the travel stop"), "force"),
    ("pull.mounted.length", word("travel stop as mounted at"), "length"),
    ("pull.mounted.load", word("load at the travel stop as mounted"), "force"),
    ("dynamics.natural_frequency_both_held", word("natural frequency"), "frequency"),
    ("verdict.outcome", word("verdict"), ""),
)


@dataclass(frozen=True)
class Row:
    """One thing compared.

    Attributes
    ----------
    key : str
        Its place in the specification or the summary, with dots.
    words : str
        What it is.
    kind : str
        Of quantity (`springgeo.text.quantity`); empty for what is said in words or as written.
    values : tuple
        One for each spring, in inside units; None where a spring has none.
    given : bool
        Whether a specification says it; else it follows.
    """

    key: str
    words: str
    kind: str
    values: tuple[object, ...]
    given: bool

    @property
    def differs(self) -> bool:
        """Whether the springs are not alike in this."""
        first = self.values[0]
        return any(not _alike(first, other) for other in self.values[1:])

    def shown(self, shown: Shown) -> list[str]:
        """Return the values as a reader sees them."""
        return [_shown(v, self.kind, shown) for v in self.values]


@dataclass(frozen=True, eq=False)
class Comparison:
    """Springs and what was compared; ``names`` tell them apart."""

    names: tuple[str, ...]
    springs: tuple[Spring, ...]
    rows: tuple[Row, ...]

    def json_text(self) -> str:
        """Return everything as JSON: mm, N, MPa, and the units of the summary."""
        data = {
            "schema_version": SCHEMA,
            "units": self.springs[0].summary().units,
            "springs": [
                {"name": name, "digest": s.summary().digest()}
                for name, s in zip(self.names, self.springs, strict=True)
            ],
            "rows": [
                {
                    "key": r.key,
                    "words": str(r.words),
                    "given": r.given,
                    "differs": r.differs,
                    "values": list(r.values),
                }
                for r in self.rows
            ],
            "curves": [
                [[p.load, p.length] for p in s.summary().load_line.curve] for s in self.springs
            ],
        }
        return json.dumps(data, indent=2, ensure_ascii=True, allow_nan=False) + "\n"


def compare(springs: Mapping[str, Spring]) -> Comparison:
    """Return springs beside each other.

    Parameters
    ----------
    springs : mapping of str to Spring
        Two to seven, under the names that the columns get.

    Raises
    ------
    SpecError
        Too few or too many, or one cannot be summarised.
    """
    if not 2 <= len(springs) <= MOST:
        text = f"{len(springs)} given; name 2 to {MOST}"
        raise SpecError(error("springs-to-compare", "springs", text))
    every = tuple(springs.values())
    given = [dict(_flat(s.spec.model_dump(mode="json", exclude_none=True))) for s in every]
    keys = list(dict.fromkeys(key for values in given for key in values))
    rows = [Row(k, k, "", tuple(v.get(k) for v in given), given=True) for k in keys]
    # what all say alike is told by what follows from it
    rows = [row for row in rows if row.differs and row.key != "name"]
    data = [s.summary().model_dump(mode="json") for s in every]
    for key, words, kind in _FACTS:
        values = tuple(_at(d, key) for d in data)
        if any(v is not None for v in values):
            rows.append(Row(key, words, kind, values, given=False))
    return Comparison(tuple(springs), every, tuple(rows))


def _flat(data: Mapping[str, object], above: str = "") -> Iterator[tuple[str, object]]:
    for key, value in data.items():
        if isinstance(value, Mapping) and key != "material":
            yield from _flat(value, f"{above}{key}.")
        else:
            yield f"{above}{key}", value


def _at(data: Any, path: str) -> Any:
    for key in path.split("."):
        if data is None or data == []:
            return None
        data = data[int(key)] if isinstance(data, list) else data[key]
    return data


def _alike(a: object, b: object) -> bool:
    if isinstance(a, float | int) and isinstance(b, float | int):
        return math.isclose(a, b, rel_tol=_ALIKE)
    return bool(a == b)


def _shown(value: Any, kind: str, shown: Shown) -> str:
    if value is None:
        return "-"
    if kind:
        return shown.value(q.Quantity(kind, value, 5 if kind == "length" else 4))
    if isinstance(value, str):
        return shown.text(_in_degrees(value))
    if isinstance(value, Sequence):
        return ", ".join(_shown(v, "", shown) for v in value)
    if isinstance(value, Mapping):
        return ", ".join(f"{k} {_shown(v, '', shown)}" for k, v in value.items())
    return f"{value:g}" if isinstance(value, float) else str(value)


def _in_degrees(text: str) -> str:
    """Return an angle of a specification as people write it; another text as it is."""
    number, unit, rest = text.partition(" rad")
    if not unit or rest:
        return text
    return f"{math.degrees(float(number)):g} deg"


# a specification's bare numbers stand as they would be written: mm, N, MPa
GIVEN_IN = ", ".join(BARE[k] for k in ("length", "force", "stress"))

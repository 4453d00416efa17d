"""What becomes of a spring whose dimensions stray: results, frozen; mm, N, MPa, N/mm."""

from __future__ import annotations

import json

from springgeo.findings import Finding
from springgeo.message import Text
from springgeo.results.facts import CAUTIONS, Facts
from springgeo.results.place import Way

SCHEMA = "springgeo-tolerance/1"


class Toleranced(Facts):
    """One thing that strays: its nominal value, and the deviations between which it lies.

    ``kind`` is that of the quantity.
    """

    name: str
    kind: str
    nominal: float
    low: float
    high: float
    source: str
    known: str


class Stray(Toleranced):
    """One thing that strays, and what that brings.

    ``first`` and ``total``: Sobol' indices of what is worst held (``Tolerance.worst``): the share
    of its variance that this brings alone, and together with all else. ``inside_if_exact``: the
    share of springs within all limits if this did not stray. ``alone``: by how much its tolerance
    may be multiplied, all others as they are, for the wanted share; None where none is enough, or
    none was asked for; ``alone_most``: it is so wide that nothing wider was looked at.
    """

    first: float
    total: float
    inside_if_exact: float
    alone: float | None
    alone_most: bool


class Histogram(Facts):
    """Counts of springs between neighbouring ``edges``, one fewer than those."""

    edges: tuple[float, ...]
    counts: tuple[int, ...]


class Straying(Facts):
    """What is looked at of a spring.

    ``quantity``: load at the length, or length under the load, of working point ``number``; rate;
    free_length; or a margin at the highest load, or the fatigue_factor of the cycle up to it, of
    a ``place`` by a ``way``, pulled straight or ``as_mounted``. ``load`` and ``length`` are those
    of the working point.
    """

    quantity: str
    number: int | None = None
    load: float | None = None
    length: float | None = None
    place: str | None = None
    way: Way | None = None
    as_mounted: bool = False


class Spread(Straying):
    """How one quantity strays.

    ``low`` and ``high`` hold 99.73 % of the springs.
    ``inside``: the share within the limits, None without any; of a margin or a factor, the share
    not below 1.
    ``off_percent``: the greatest difference of drawn springs from their equilibrium, per cent of
    the nominal value.
    ``first``, ``total``: Sobol' indices by what strays.
    """

    nominal: float
    mean: float
    deviation: float
    low: float
    high: float
    limit_low: float | None
    limit_high: float | None
    limits_source: str | None
    limits_known: str | None
    inside: float | None
    off_percent: float
    first: dict[str, float]
    total: dict[str, float]
    histogram: Histogram


class Correction(Facts):
    """How springs were answered: springs asked of the wire in equilibrium, and held against it.

    ``narrowed``: what was asked within a part of its tolerance, for at its end there is no spring.
    """

    asked: int
    checked: int
    narrowed: tuple[str, ...]


class Tolerance(Facts):
    """The answer: how springs made to these tolerances come out.

    ``inside``: the share within all limits; ``impossible``: springs drawn that cannot be made, of
    ``springs``; they count as outside. ``worst``: the number in ``spreads`` of the limited
    quantity with the least share inside. ``together``: by how much all tolerances may be
    multiplied for the wanted ``share``, None where none is enough or none was asked for.
    """

    schema_version: str = SCHEMA
    units: str = "mm, N, MPa, N/mm"
    name: str
    springs: int
    seed: int
    distribution: str
    sigmas: float | None
    grade: int
    adjusts: str
    impossible: int
    inside: float
    worst: int
    strays: tuple[Stray, ...]
    spreads: tuple[Spread, ...]
    share: float | None
    together: float | None
    together_most: bool
    correction: Correction
    remarks: tuple[Text, ...]
    findings: tuple[Finding, ...]
    cautions: tuple[Text, ...] = CAUTIONS

    def json_text(self) -> str:
        """Return the result as JSON, ASCII only, the same for the same spring and seed."""
        return json.dumps(self.model_dump(mode="json"), indent=2, allow_nan=False)

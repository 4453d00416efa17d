"""What an overload leaves of a spring: results, frozen; N, mm, MPa."""

from __future__ import annotations

from springgeo.message import Text
from springgeo.results.facts import CAUTIONS, Document, Facts, Reached


class Set(Facts):
    """What is left after one overload, for wire of one elastic limit.

    ``load``, ``length``: of the overload. ``yields``: whether anything is left. ``lengthened``: by
    how much the length inside hooks stays greater, ``share_percent`` of the free length.
    ``opened_first``, ``opened_second``: by how much the cut end of a hook stays further from the
    body, None for other ends. ``initial_tension``: what is left of it.
    """

    load: float
    length: float
    yields: bool
    lengthened: float
    share_percent: float
    free_length: float
    opened_first: float | None
    opened_second: float | None
    initial_tension: float
    initial_tension_lost: float


class AtLimit(Facts):
    """The answers for wire of one elastic limit, in tension and in torsion.

    ``set``: None without an overload asked for, or where the wire yields through. ``costs``: the
    load, and the length it draws to, that costs ``share_percent`` of the free length; None where
    the wire yields through before.
    """

    tension: float
    torsion: float
    set: Set | None
    yields_through: bool
    costs: Reached | None


class Overload(Document):
    """What an overload leaves of a spring: estimates, between two published elastic limits.

    ``least``: wire of the least published elastic limit, which sets most; ``greatest``: of the
    greatest. ``load`` or ``length`` is what was asked for. ``relieved`` is the share of coiling
    stress taken to be gone.
    """

    load: float | None
    length: float | None
    costs_percent: float
    relieved: float
    hardening: float
    least: AtLimit
    greatest: AtLimit
    source: str
    known: str
    remarks: tuple[Text, ...]
    cautions: tuple[Text, ...] = CAUTIONS

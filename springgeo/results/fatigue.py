"""Repeated load."""

from __future__ import annotations

from pydantic import Field

from springgeo.message import Text
from springgeo.results.facts import Facts
from springgeo.results.place import Place, Way


class LifeStrength(Facts):
    """A row of the repeated-load table at one place: MPa, and the Gerber factor of the cycle.

    ``repeated_strength`` S_r is the largest stress endured from zero, ``endurance`` the fully
    reversed strength S_e it amounts to by Gerber.
    """

    cycles: float
    repeated_strength: float
    endurance: float
    gerber: float | None


class FatiguePlace(Facts):
    """One place under the cycle: MPa and safety factors (None where a rule does not apply).

    ``factor`` is the answer, by the one model that takes stress range, mean and life together;
    ``decides`` says what it comes from (gerber, goodman, static, spectrum, not known). The model's
    strengths at the cycles asked for: ``repeated_strength`` S_r from zero, ``life_gerber`` and
    ``life_goodman`` S_e fully reversed, ``ultimate`` and ``static_strength``. Beside it the books'
    own figures: ``endurance_gerber``, ``endurance_goodman``, ``gerber`` and ``goodman`` with
    Zimmerli's strengths for endless life, ``yielding`` along the load line, ``by_life`` the rows
    of the repeated-load table; ``life_table`` is S_r over the highest stress, within that table.
    ``damage`` is Miner's sum of a spectrum. For a spectrum, stresses are those of its worst range.
    """

    alternating: float
    mean: float
    endurance_gerber: float | None
    gerber: float | None
    goodman: float | None
    yielding: float | None
    life_table: float | None
    endurance_goodman: float | None = None
    repeated_strength: float | None = None
    life_gerber: float | None = None
    life_goodman: float | None = None
    ultimate: float
    static_strength: float
    by_life: tuple[LifeStrength, ...] = ()
    damage: float | None = None
    factor: float | None
    decides: str


class LoadRange(Facts):
    """A range of load, N, and how often it comes; None: for ever."""

    load_low: float
    load_high: float
    count: float | None


class Fatigue(Facts):
    """The cycle between the lowest and the highest load, by the handbook and along the wire.

    ``cycles`` are all cycles, None for endless; ``spectrum`` the ranges where several are given;
    ``life_class`` the life of the repeated-load table next above.
    ``governing`` is the key of the least factor and its method, ``place`` and ``way`` the same.
    ``mounted``: along the wire as mounted, where that is not the straight pull, and
    ``mounted_handbook`` by the handbook at the loads there, where given lengths make them others;
    ``as_mounted``: whether the least is of these. The loads are those of the least. As mounted a
    cycle goes between the greatest stresses of a place under either load, wherever in it they lie.
    """

    load_low: float
    load_high: float
    cycles: float | None
    spectrum: tuple[LoadRange, ...] = ()
    life_class: float | None
    method: Text
    handbook: dict[str, FatiguePlace]
    along_the_wire: dict[str, FatiguePlace]
    mounted: dict[str, FatiguePlace] = Field(default_factory=dict)
    mounted_handbook: dict[str, FatiguePlace] = Field(default_factory=dict)
    governing: str
    margin: float | None
    place: Place | None = None
    way: Way | None = None
    as_mounted: bool = False

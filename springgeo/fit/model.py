"""What a fit analysis says: frozen values with numbers, place, verdict; mm, N, deg."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from typing import Literal

from pydantic import BaseModel, ConfigDict

from springgeo.findings import Finding
from springgeo.message import Text
from springgeo.text import quantity as q
from springgeo.text.naming import ENDS
from springgeo.text.shown import PLAIN, Shown, word

SCHEMA = "springgeo-fit/1"

Entry = Literal["over", "thread", "no"]
Hold = Literal["captive", "held", "falls off"]
PART_WORDS = {"pin": word("pin"), "plate": word("plate"), "stud": word("stud")}


class FitPart(BaseModel):
    """Base of the fit's values: frozen, nothing unknown."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Gap(FitPart):
    """A clearance and where it is; negative: the parts overlap."""

    distance: float
    label: str
    s: float
    point: tuple[float, float, float]


class EndFit(FitPart):
    """One end on its mating part.

    Attributes
    ----------
    seat, direction : (3,) float
        Middle of the part and direction of its axis, in the spring's frame.
    inside : float or None, mm
        Diameter of the loop's inside at the contact; None where it is straight.
    hook, neighbour : Gap
        Clearance of the part to the end's own wire (0 at its seat), and to the body.
    mouth, lift : float, mm
        The narrowest way in, and how far the part must move from its seat to pass it.
    mouth_free, lift_free : float, mm
        The same of the spring as drawn, by which entry and hold are judged: under load a hook
        opens, but is held in its seat.
    entry : {"over", "thread", "no"}
        The hook goes over the part; the part must be put through the loop endwise; neither.
    hold : {"captive", "held", "falls off"}
        Cannot pass the mouth; cannot reach it within the play; can come off at free length.
    margin : float, mm
        How much more play would let it come off; None when captive.
    swing_in_plane, swing_across : (float, float) or None, deg
    side_room : float, mm
        Free length of the part on either side of the wire.
    largest : float or None, mm
        Where a pin meets wire: the greatest diameter that would not.
    further : float or None, mm
        Where the part meets the body: how much further along the spring's axis it would clear it;
        None where it does not at all.
    """

    part: Literal["pin", "plate", "stud"]
    seat: tuple[float, float, float]
    direction: tuple[float, float, float]
    inside: float | None
    hook: Gap
    neighbour: Gap
    mouth: float
    mouth_label: str
    lift: float
    mouth_free: float
    lift_free: float
    entry: Entry
    hold: Hold
    margin: float | None
    swing_in_plane: tuple[float, float] | None
    swing_across: tuple[float, float] | None
    side_room: float
    largest: float | None = None
    further: float | None = None


class PinLoad(FitPart):
    """What a pin does to the spring, N and N mm, z along the line of pull from the first end."""

    force: tuple[float, float, float]
    moment: tuple[float, float, float]

    @property
    def side(self) -> float:
        """Force across the line of pull, N."""
        return math.hypot(*self.force[:2])

    @property
    def turn(self) -> float:
        """Size of the moment, N mm."""
        return math.hypot(*self.moment)


class PinLoads(FitPart):
    """The pins, or whatever holds them, of the first and the second end."""

    first: PinLoad
    second: PinLoad


class StateFit(FitPart):
    """One state of the spring: every pair of parts; ``solids`` are further ones by name.

    ``load``, N, is along the line of pull, as the spring is mounted.
    """

    stop: str | None
    length: float
    load: float
    first: EndFit | None
    second: EndFit | None
    bore: Gap | None
    rod: Gap | None
    solids: dict[str, Gap] = {}
    pins: PinLoads | None = None
    findings: tuple[Finding, ...]

    @property
    def ok(self) -> bool:
        """Whether nothing here is an error."""
        return all(f.severity != "error" for f in self.findings)

    def beside(self) -> Iterator[tuple[str, Gap]]:
        """Yield what must be kept clear, by name; the seat only where it does more than touch."""
        for side, end in ((ENDS["first"], self.first), (ENDS["second"], self.second)):
            if end is not None:
                yield f"{end.part}, {side}, to the body", end.neighbour
                if end.hook.distance < -1e-3:
                    yield f"{end.part}, {side}, to its hook", end.hook
        for name, met in (("bore", self.bore), ("rod", self.rod)):
            if met is not None:
                yield name, met
        yield from self.solids.items()


class FitReport(FitPart):
    """The fit over the whole stroke.

    ``safe_length``, mm: where the first stress reaches its allowable; None where no load is
    given to judge by.
    """

    schema_version: str = SCHEMA
    name: str
    units: str = "mm, N, deg"
    states: tuple[StateFit, ...]
    safe_length: float | None = None
    findings: tuple[Finding, ...]
    verdict: Text

    @property
    def ok(self) -> bool:
        """Whether nothing over the stroke is an error."""
        return all(f.severity != "error" for f in self.findings)

    def json_text(self, indent: int | None = 2) -> str:
        """Return the report as JSON, ASCII only."""
        return json.dumps(self.model_dump(mode="json"), indent=indent, allow_nan=False)

    @property
    def nearest(self) -> tuple[StateFit, str, Gap] | None:
        """State, pair and place of the least clearance beside the seats; None without a pair."""
        found = [(s, name, g) for s in self.states for name, g in s.beside()]
        return min(found, key=lambda c: c[2].distance, default=None)

    def table(self, shown: Shown = PLAIN) -> list[list[str]]:
        """Return rows of text, one per state below a head; ``-`` where a pair is not there.

        In mm and N, or as ``shown``; the second and third column, and all clearances.
        """
        head = [
            "state",
            "length" if shown.units == "mm" else f"length {shown.unit('length')}",
            "load" if shown.units == "mm" else f"load {shown.unit('force')}",
            "hook 1",
            "body 1",
            "hook 2",
            "body 2",
            "bore",
            "rod",
            *(self.states[0].solids if self.states else ()),
            "verdict",
        ]
        return [head, *(_row(s, shown) for s in self.states)]


def _row(s: StateFit, shown: Shown) -> list[str]:
    ends = [g for e in (s.first, s.second) for g in ((e.hook, e.neighbour) if e else (None, None))]
    gaps = [*ends, s.bore, s.rod, *s.solids.values()]
    codes = [f.code for f in s.findings if f.severity == "error"]
    return [
        s.stop or "",
        shown.value(q.length(s.length, places=2)),
        shown.value(q.force(s.load, places=2)),
        *("-" if g is None else shown.value(q.length(g.distance, places=3)) for g in gaps),
        "fits" if not codes else ", ".join(dict.fromkeys(codes)),
    ]

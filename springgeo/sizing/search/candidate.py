"""One candidate in plain numbers, as the search saw it, and the specification it stands for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from springgeo.mechanics.value import Array
from springgeo.sizing.job.end_option import EndOption
from springgeo.sizing.job.job import Job
from springgeo.sizing.job.need import Line
from springgeo.sizing.search.closed_form import proportions
from springgeo.sizing.search.constraints import Block
from springgeo.sizing.search.factors import HANDBOOK
from springgeo.sizing.search.objectives import costs, least_margin
from springgeo.sizing.search.place import Place
from springgeo.sizing.search.rules import slacks
from springgeo.sizing.search.scan import block
from springgeo.sizing.search.search import Found


@dataclass(frozen=True)
class Candidate:
    """mm, N, N/mm, MPa, kg, Hz; ``slack`` by rule, ``cost`` by objective (smaller is better)."""

    material: str
    ends: tuple[EndOption, EndOption]
    line: Line
    d: float
    D: float
    coils: float
    free_length: float
    initial_tension: float
    initial_stress: float
    margins: dict[str, float]
    reserve: float
    mass: float
    natural_frequency: float
    slack: dict[str, float]
    cost: dict[str, float]

    @property
    def index(self) -> float:
        """C = D/d."""
        return self.D / self.d

    def specification(self, job: Job, name: str) -> dict[str, Any]:
        """Return the specification as a file holds it, in mm; it says units other than these.

        What the trade of its units decides, a fitting's thread, is then that of the file.
        """
        s, numbers = job.service, (self.line.F_1, self.line.F_2)
        service: dict[str, Any] = {
            "loads": [_round(f) for f in numbers],
            "duty": s.duty,
            "temperature": s.temperature,
        }
        extra = {"cycles": s.cycles, "forcing_frequency": s.forcing_frequency}
        service |= {k: v for k, v in extra.items() if v is not None}
        if s.spectrum:
            service["spectrum"] = [r.model_dump(exclude_none=True) for r in s.spectrum]
        if s.peened:
            service["peened"] = True
        units = {} if job.units == "mm" else {"units": job.units}
        return {
            **units,
            "name": name,
            "wire": {
                "material": job.choice.written_material(self.material),
                "diameter": _round(self.d),
            },
            "body": {
                "mean_diameter": _round(self.D),
                "coils": _round(self.coils),
                "initial_tension": _round(max(self.initial_tension, 0.0)),
            },
            "ends": {"first": self._end(0), "second": self._end(1)},
            "service": service,
        }

    def _end(self, side: int) -> dict[str, Any]:
        end = self.ends[side]
        lengths = end.parameters(self.d, self.index)
        return {"style": end.style} | {k: _round(v) for k, v in lengths.items()}


def candidate(found: Found, place: Place) -> Candidate:
    """Return the candidate at a place."""
    job = found.job
    b = _block(found, place)
    made, one = b.made, _number
    names = ("body", "hook_bending", "hook_torsion")
    margins = {n: one(x) for n, x in zip(names, made.margins, strict=True)}
    if job.service.duty != "static":
        margins |= {f"fatigue_{n}": one(x) for n, x in zip(names, made.fatigue, strict=True)}
    return Candidate(
        material=b.wires.material[0],
        ends=job.end_pairs[place.ends],
        line=b.line,
        d=one(b.wires.d),
        D=one(made.D),
        coils=one(made.N_b),
        free_length=one(made.L_0),
        initial_tension=one(made.F_i),
        initial_stress=one(made.tau_i),
        margins=margins,
        reserve=one(least_margin(b)),
        mass=one(made.mass),
        natural_frequency=one(made.frequency),
        slack={rule.name: one(s) for rule, s in slacks(b)},
        cost=dict(zip(job.objectives, (one(c) for c in costs(b)), strict=True)),
    )


def _block(found: Found, place: Place) -> Block:
    """Return the block of one wire at one index."""
    job, factors = found.job, found.factors.get(place.ends, HANDBOOK)
    index = proportions(np.array([place.C]), job.end_pairs[place.ends], factors)
    return block(job, job.lines[place.line], found.one(place), index)


def _number(x: Array) -> float:
    return float(np.asarray(x).flat[0])


def _round(value: float) -> float:
    return float(f"{value:.9g}")

"""Every wire that may be used, as columns: diameter, moduli, strength, allowables."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.errors import refused
from springgeo.materials import Material, sizes
from springgeo.mechanics import life, spectrum
from springgeo.mechanics.value import Array
from springgeo.sizing.job.cycle import Cycle, cycle_of
from springgeo.sizing.job.duties import Duties
from springgeo.sizing.job.job import Job
from springgeo.sizing.job.need import Line
from springgeo.sizing.search.pareto import Index
from springgeo.summary.fatigue.endured import PLACES as ENDURED
from springgeo.summary.fatigue.endured import endured_places
from springgeo.text import quantity as q
from springgeo.text.shown import said

PLACES = ("body", "hook_bending", "hook_torsion")


@dataclass(frozen=True)
class Wires:
    """Columns ``(n, 1)`` of one table: mm, MPa, kg/mm³, degC.

    ``static`` and ``fatigue`` hold allowable stress at body, A and B for the highest load;
    fatigue is NaN where no published data exist. ``cost`` is relative to hard-drawn wire, NaN
    where unknown; ``heat`` and ``cold`` are the temperature limits, infinite where none is known.
    """

    material: tuple[str, ...]
    table: Array
    d: Array
    G: Array
    E: Array
    rho: Array
    cost: Array
    heat: Array
    cold: Array
    tension: Array
    static: tuple[Array, Array, Array]
    fatigue: tuple[Array, Array, Array]

    def __len__(self) -> int:
        return len(self.material)

    def part(self, rows: slice | Index) -> Wires:
        """Return some of the wires."""
        index = np.arange(len(self))[rows]
        return Wires.of([self.material[i] for i in index], self.table[index])

    @classmethod
    def of(cls, names: list[str], table: Array) -> Wires:
        """Return the wires of a table ``(n, 14)`` in the order of the fields."""
        c = [table[:, i : i + 1] for i in range(14)]
        places = (c[8], c[9], c[10]), (c[11], c[12], c[13])
        return cls(tuple(names), table, c[0], c[1], c[2], c[3], c[4], c[5], c[6], c[7], *places)


@dataclass(frozen=True)
class Stock:
    """The wires of a job for each of its load lines: fatigue follows the line's own cycle.

    Every table has the same wires in the same order; only ``fatigue`` differs.
    """

    job: Job
    wires: Wires
    _known: dict[Cycle, Wires]

    @classmethod
    def of(cls, job: Job) -> Stock:
        """Return the stock of a job; raises as `wires_of`."""
        cycle = cycle_of(job.service, job.lines[0])
        wires = wires_of(job, cycle)
        return cls(job, wires, {cycle: wires})

    def at(self, line: Line) -> Wires:
        """Return the wires as they endure the cycle along a load line."""
        if self.job.service.duty == "static":
            return self.wires
        cycle = cycle_of(self.job.service, line)
        if cycle not in self._known:
            self._known[cycle] = wires_of(self.job, cycle)
        return self._known[cycle]


def wires_of(job: Job, cycle: Cycle) -> Wires:
    """Return the wires a job may use, as they endure a cycle.

    Raises
    ------
    SpecError
        No wire size of the job lies in the tensile table of any of its materials.
    """
    choice = job.choice
    wanted = (
        [np.asarray(choice.wire_sizes)]
        if choice.wire_sizes
        else [sizes.series(name) for name in choice.all_series]
    )
    d = np.unique(np.concatenate(wanted).round(6))
    found = [
        _columns(material, d, job.service, cycle) for material in choice.known_materials.values()
    ]
    names = [n for rows, _ in found for n in rows]
    if not names:
        text = said(
            "no size from {d} to {d_2} lies in the tensile table of any material of the "
            "job; add sizes, a series or a material",
            d=q.length(d[0], 4, unit=False),
            d_2=q.length(d[-1], 4),
        )
        raise refused("no-wire", "choice", text)
    return Wires.of(names, np.concatenate([columns for _, columns in found]))


def _columns(m: Material, d: Array, service: Duties, cycle: Cycle) -> tuple[list[str], Array]:
    strength = m.tensile_minimum(d)
    d, strength = d[np.isfinite(strength)], strength[np.isfinite(strength)]
    heat = np.inf if m.temperature_limit is None else m.temperature_limit
    cold = -np.inf if m.temperature_minimum is None else m.temperature_minimum
    # beyond what it bears a wire is told of as it would be there
    T = float(np.clip(service.temperature, cold, heat))
    G, E = np.asarray(m.shear_modulus(d, T)), np.asarray(m.elastic_modulus(d, T))
    # not known: that at 20 degC, as in the summary
    strong = m.strength_share(T)
    strength = strength * (1.0 if strong is None else strong)
    cost = np.nan if m.relative_cost is None else m.relative_cost
    facts = [np.full_like(d, x) for x in (m.density, cost, heat, cold, m.initial_tension_possible)]
    static = [share * strength for share in m.static_allowables]
    fatigue = fatigue_allowables(m, d, strength, service, cycle)
    return [m.id] * len(d), np.stack([d, G, E, *facts, *static, *fatigue], axis=-1)


def fatigue_allowables(
    m: Material, d: Array, S_ut: Array, service: Duties, cycle: Cycle
) -> list[Array]:
    """Return the greatest stress at the highest load, at body, A and B, MPa.

    By the one fatigue model, ``springgeo.mechanics.life``, a spectrum by Miner's rule: stresses
    are proportional to load, so the factor of a cycle whose stress is 1 MPa at the highest load of
    the job is the stress allowed there. NaN where nothing is published; infinite for static duty.

    Parameters
    ----------
    m : Material
    d, S_ut : array
        Wire diameter, mm, and its tensile strength, MPa.
    service : Duties
    cycle : Cycle
        Ranges over the highest load.
    """
    if service.duty == "static":
        return [np.full_like(d, np.inf)] * 3
    places = endured_places(m, d, S_ut, service.peened)
    low, high, counts = (np.array(x) for x in zip(*cycle, strict=True))
    s_a, s_m = 0.5 * (high - low), 0.5 * (high + low)
    if service.spectrum:
        return [spectrum.spectrum_factor(s_a, s_m, counts, places[name]) for name in ENDURED]
    return [life.factor(s_a[0], s_m[0], float(counts[0]), places[name]) for name in ENDURED]

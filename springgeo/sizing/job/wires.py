"""Every wire that may be used, as columns: diameter, moduli, strength, allowables."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from springgeo.errors import SpecError
from springgeo.findings import error
from springgeo.materials import Material, sizes
from springgeo.mechanics import endurance
from springgeo.mechanics.value import Array
from springgeo.sizing.job.job import Duties, Job
from springgeo.sizing.search.pareto import Index

# Zimmerli's data hold for steel wire below this diameter, mm: Shigley sec. 10-9
ZIMMERLI_DIAMETER = 10.0
PLACES = ("body", "a", "b")


@dataclass(frozen=True)
class Wires:
    """Columns ``(n, 1)`` of one table: mm, MPa, kg/mm³, degC.

    ``static`` and ``fatigue`` hold allowable stress at body, A and B for the highest load;
    fatigue is NaN where no published data exist. ``cost`` is relative to hard-drawn wire, NaN
    where unknown; ``heat`` the temperature limit, infinite where none is known.
    """

    material: tuple[str, ...]
    table: Array
    d: Array
    G: Array
    E: Array
    rho: Array
    cost: Array
    heat: Array
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
        """Return the wires of a table ``(n, 13)`` in the order of the fields."""
        c = [table[:, i : i + 1] for i in range(13)]
        places = (c[7], c[8], c[9]), (c[10], c[11], c[12])
        return cls(tuple(names), table, c[0], c[1], c[2], c[3], c[4], c[5], c[6], *places)


def wires_of(job: Job, ratio: float) -> Wires:
    """Return the wires a job may use; ``ratio`` is lowest over highest load of its cycle.

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
        _columns(material, d, job.service, ratio) for material in choice.known_materials.values()
    ]
    names = [n for rows, _ in found for n in rows]
    if not names:
        text = (
            f"no size from {d[0]:.4g} to {d[-1]:.4g} mm lies in the tensile table of any material "
            "of the job; add sizes, a series or a material"
        )
        raise SpecError(error("no-wire", "choice", text))
    return Wires.of(names, np.concatenate([columns for _, columns in found]))


def _columns(m: Material, d: Array, service: Duties, ratio: float) -> tuple[list[str], Array]:
    strength = m.tensile_minimum(d)
    d, strength = d[np.isfinite(strength)], strength[np.isfinite(strength)]
    G, E = np.asarray(m.shear_modulus(d)), np.asarray(m.elastic_modulus(d))
    heat = np.inf if m.temperature_limit is None else m.temperature_limit
    cost = np.nan if m.relative_cost is None else m.relative_cost
    facts = [np.full_like(d, x) for x in (m.density, cost, heat, m.initial_tension_possible)]
    static = [share * strength for share in m.static_allowables]
    fatigue = fatigue_allowables(m, d, strength, service, ratio)
    return [m.id] * len(d), np.stack([d, G, E, *facts, *static, *fatigue], axis=-1)


def fatigue_allowables(
    m: Material, d: Array, S_ut: Array, service: Duties, ratio: float
) -> list[Array]:
    """Return the greatest stress at the highest load, at body, A and B, MPa.

    A life: the repeated-load table (Shigley Table 10-8) where the material has one. Otherwise
    Zimmerli's data with the Goodman line: stresses are proportional to load, so with R the ratio
    of loads 1/S = (1 - R)/(2 S_e) + (1 + R)/(2 S_u). Source: Shigley eq. 10-28, sec. 10-9. NaN
    where neither applies; infinite for static duty.

    Parameters
    ----------
    m : Material
    d, S_ut : array
        Wire diameter, mm, and its tensile strength, MPa.
    service : Duties
    ratio : float
        R, lowest over highest load.
    """
    if service.duty == "static":
        return [np.full_like(d, np.inf)] * 3
    table = m.cyclic_allowables if service.cycles is not None else None
    lives = [life for life in sorted(table or ()) if life >= (service.cycles or 0)]
    if table and lives:
        return [share * S_ut for share in table[lives[0]]]
    S_sa, S_sm = endurance.zimmerli(service.peened)
    S_su = np.asarray(endurance.S_su(S_ut))
    S_se = np.where((d < ZIMMERLI_DIAMETER) & m.is_steel, 1.0, np.nan)
    S_se = S_se * endurance.S_e_goodman(S_sa, S_sm, S_su)
    shear = _on_the_line(S_se, S_su, ratio)
    bending = _on_the_line(np.asarray(endurance.S_e_bending(S_se)), S_ut, ratio)
    return [shear, bending, shear]


def _on_the_line(S_e: Array, S_u: Array, ratio: float) -> Array:
    return 2.0 / ((1.0 - ratio) / S_e + (1.0 + ratio) / S_u)

"""What the handbook says: tension, rate, static check, working points, dynamics."""

from __future__ import annotations

from springgeo.results.facts import Facts
from springgeo.results.place import Place


class InitialTension(Facts):
    """Force N; stress and preferred range MPa (uncorrected shear); None outside its validity."""

    force: float
    stress: float
    preferred_low: float | None
    preferred_high: float | None
    assumed: bool


class Convention(Facts):
    """Active coils and rate, N/mm, by one convention of the trade."""

    active_coils: float
    rate: float


class StressRange(Facts):
    """A preferred range of initial-tension stress, MPa, by one published form."""

    low: float | None
    middle: float
    high: float | None
    source: str


class StaticCheck(Facts):
    """A standard's static check at the highest load: MPa."""

    standard: str
    stress: float
    allowable: float
    margin: float


class Stresses(Facts):
    """Body shear, hook bending (the handbooks' point A), hook torsion (their B).

    MPa, or margins without unit; None where no hook carries the load.
    """

    body_shear: float | None
    hook_bending: float | None
    hook_torsion: float | None


class WorkingPoint(Facts):
    """One load, or one length: N, mm by the load curve; MPa by the handbook.

    Margins are allowable/stress.

    ``governing`` is the key of the least margin, ``place`` the same with its end; ``hook_at_a``
    and ``hook_at_b`` are the keys of the end bent and twisted harder, ``*`` for both alike.
    """

    load: float
    length: float
    deflection: float
    body_shear: float
    hook_bending: float | None
    hook_torsion: float | None
    allowable: Stresses
    margin: Stresses
    governing: str
    place: Place | None
    hook_at_a: str | None
    hook_at_b: str | None

    @property
    def is_slack(self) -> bool:
        """Whether a spring pulled straight is slack at this length: it is taut as mounted alone."""
        return self.deflection < -1e-9 * self.length


class Dynamics(Facts):
    """Hz, N mm: frequencies hold only while the coils are apart."""

    natural_frequency_both_held: float
    natural_frequency_one_free: float
    stored_energy: float | None

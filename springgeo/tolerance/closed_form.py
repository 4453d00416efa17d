"""A spring off its nominal dimensions, by the handbook's closed form: arrays of springs at once."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, NamedTuple

import numpy as np

from springgeo.making.ruling import ruling
from springgeo.mechanics import body, hook, rate
from springgeo.mechanics.value import Array, Mask
from springgeo.specification.end_names import SIDES
from springgeo.specification.making import Diameter
from springgeo.summary.handbook import Handbook
from springgeo.tolerance.repeated import Repeated

# coils with less than a wire inside, or so wide that they do not hold their shape, are not wound
_LEAST_INDEX, _MOST_INDEX = 2.0, 50.0
Wound = Literal["closed", "pitch", "gap"]
# deviations by the names of inputs, in the unit of each
Off = Mapping[str, Array]


class Hook(NamedTuple):
    """A hook as drawn: mean diameter of the coil it is bent on, r_1, r_2, mm; None without."""

    side: str
    D: float
    r_1: float | None
    r_2: float | None


class Made(NamedTuple):
    """Springs off their nominal dimensions: mm, MPa, N/mm, N."""

    d: Array
    D: Array
    k: Array
    F_i: Array
    L_0: Array
    impossible: Mask


@dataclass(frozen=True)
class Nominal:
    """What the closed form starts from, all of it the summary's.

    ``repeated``: its cycle, None for a static duty. ``hooks_rule``: the free length follows from
    body and hooks. ``wound``: what holds its pitch, coils that touch, or a pitch or gap as given;
    wire that strays takes the pitch along where coils touch or a gap is held. ``k_0``: rate before
    coils part, N/mm, when the hooks give alone; infinite without initial tension.
    """

    d: float
    D: float
    rules: Diameter
    N_b: float
    N_a: float
    G: float
    F_i: float
    L_0: float
    pitch: float
    S_ut: float
    hooks: tuple[Hook, ...]
    shares: tuple[float, float, float]
    hooks_rule: bool
    wound: Wound
    k_0: float
    repeated: Repeated | None

    @classmethod
    def of(cls, book: Handbook, *, hooks_rule: bool) -> Nominal:
        """Return that of a spring."""
        g, S_ut = book.model.geometry, float(book.material.tensile_strength)
        shapes = {side: getattr(g, side) for side in SIDES}
        allow = book.allowable
        body, bending, torsion = allow.body_shear, allow.hook_bending, allow.hook_torsion
        return cls(
            float(book.d),
            float(book.D),
            ruling(book.model.spec),
            float(book.model.turns),
            float(book.active_coils),
            float(book.material.shear_modulus),
            float(book.initial_tension.force),
            float(book.L_0),
            g.pitch,
            S_ut,
            tuple(
                Hook(side, float(book.hook_diameter(side)), s.loop_radius, s.bend_radius)
                for side, s in shapes.items()
            ),
            (float(body or 0.0) / S_ut, float(bending or 0.0) / S_ut, float(torsion or 0.0) / S_ut),
            hooks_rule,
            _wound(book),
            _before(book),
            Repeated.of(book),
        )

    def made(self, off: Off) -> Made:
        """Return the springs of some deviations, each ``(n,)``.

        k = G d^4/(8 D^3 N_a), Shigley eq. 10-9; Young's modulus strays with the shear modulus, so
        that the hooks' share in N_a stays. Known: derived.
        """
        zero = np.zeros(())
        d = self.d + off.get("wire_diameter", zero)
        ruled = off.get(f"{self.rules}_diameter", zero)
        more = {"mean": 0.0, "outer": -1.0, "inner": 1.0}[self.rules]
        D = self.D + ruled + more * (d - self.d)
        coils = off.get("coils", zero)
        N, G = self.N_a + coils, self.G + off.get("shear_modulus", zero)
        F_i = self.F_i + off.get("initial_tension", zero)
        L_0 = self.L_0 + off.get("free_length", zero)
        if self.hooks_rule:
            pitch = self._pitch(d)
            L_0 = L_0 + (self.N_b + coils) * pitch + d - (self.N_b * self.pitch + self.d)
            for side in SIDES:
                L_0 = L_0 + off.get(f"hook_length_{side}", zero)
        d, D, N, G, F_i, L_0 = np.broadcast_arrays(d, D, N, G, F_i, L_0)
        wrong = self._impossible(off, d, D, G, F_i, L_0)
        with np.errstate(divide="ignore", invalid="ignore"):
            k = np.asarray(rate.rate(G, D, d, N))
        return Made(d, D, k, F_i, L_0, np.broadcast_to(wrong, d.shape))

    def _pitch(self, d: Array) -> Array:
        """Return the pitch of bodies of wire of some diameters, mm."""
        if self.wound == "closed":
            return self.pitch * d / self.d
        return self.pitch + (d - self.d if self.wound == "gap" else np.zeros(()))

    def _impossible(self, off: Off, d: Array, D: Array, G: Array, F_i: Array, L_0: Array) -> Mask:
        """Say which springs cannot be: no coil, no wire, coils that pull apart by themselves."""
        zero = np.zeros(())
        coils = self.N_b + off.get("coils", zero)
        wrong = (
            (d <= 0)
            | (d > D / _LEAST_INDEX)
            | (d < D / _MOST_INDEX)
            | (G <= 0)
            | (F_i < 0)
            | (L_0 <= 0)
            | (coils <= 0)
        )
        # what the hooks leave for the body: no spring is shorter than its own coils
        if self.N_b * self.pitch + self.d < self.L_0:
            wrong = wrong | ((coils + 1) * d > L_0)
        wrong = wrong | (self.S_ut + off.get("tensile_strength", zero) <= 0)
        for h in self.hooks:
            if h.r_2 is not None:
                wrong = wrong | (h.r_2 + off.get(f"bend_radius_{h.side}", zero) <= d / 2)
        return np.asarray(wrong)

    def load(self, made: Made, length: float) -> Array:
        """Return the load at a length inside hooks, N; 0 where it is slack.

        F_i + k (L - L_0), or what the hooks give alone before coils part, if that is less.
        """
        pull = length - made.L_0
        found = np.where(pull > 0, made.F_i + made.k * pull, 0.0)
        return found if math.isinf(self.k_0) else np.minimum(found, self._k_0(made) * pull.clip(0))

    def extension(self, made: Made, load: float) -> Array:
        """Return the extension under a load, mm: its reverse."""
        found = np.asarray(rate.deflection(load, made.F_i, made.k))
        return found if math.isinf(self.k_0) else np.maximum(found, load / self._k_0(made))

    def _k_0(self, made: Made) -> Array:
        """Return the rate before coils part, N/mm; it goes with G d^4/D^3 as the coils' does."""
        one = float(rate.rate(self.G, self.D, self.d, self.N_a))
        return np.asarray(self.k_0 / one * made.k)

    def _different(self, off: Off) -> tuple[Hook, ...]:
        """Return the hooks whose stresses differ: two alike are computed once."""
        first, second = self.hooks
        alike = first[1:] == second[1:]
        return (first,) if alike and not any("bend_radius" in name for name in off) else self.hooks

    def margins(self, made: Made, load: Array, off: Off) -> list[Array | None]:
        """Return the margins of body, hook bending and hook torsion; None without such a place.

        Stress by Shigley eq. 10-7 (Bergsträsser), 10-34 and 10-36; radii of loops go with the
        coil. The worse of both ends.
        """
        strength = self.strength(off)
        with np.errstate(divide="ignore"):
            return [
                None if stress is None else share * strength / stress
                for share, stress in zip(self.shares, self.stresses(made, load, off), strict=True)
            ]

    def strength(self, off: Off) -> Array:
        """Return tensile strengths, MPa."""
        return np.asarray(self.S_ut + off.get("tensile_strength", np.zeros(())))

    def stresses(self, made: Made, load: Array, off: Off) -> list[Array | None]:
        """Return the stresses under a load of the places of `margins`, MPa."""
        zero = np.zeros(())
        d, D = made.d, made.D
        unit = np.asarray(body.tau_uncorrected(1.0, D, d))
        index = D / d
        bent, twisted = [], []
        for h in self._different(off):
            scale = h.D / self.D
            if h.r_1 is not None:
                K = hook.K_A(hook.bend_index(h.r_1 / self.D * D, d))
                bent.append(np.asarray(hook.sigma_A(1.0, scale * D, d, K)))
            if h.r_2 is not None:
                r_2 = h.r_2 + off.get(f"bend_radius_{h.side}", zero)
                K = hook.K_B(np.maximum(hook.bend_index(r_2, d), 1.001))
                twisted.append(np.asarray(scale * unit * K))
        found: list[Array | None] = [np.maximum(load, made.F_i) * unit * body.K_B(index)]
        for stresses in (bent, twisted):
            if not stresses:
                found.append(None)
                continue
            worst = stresses[0]
            for other in stresses[1:]:
                worst = np.maximum(worst, other)
            found.append(load * worst)
        return found


def _wound(book: Handbook) -> Wound:
    given = book.model.spec.body
    if given.pitch is not None:
        return "pitch"
    return "closed" if given.gap is None else "gap"


def _before(book: Handbook) -> float:
    """Return the rate of the smallest loads, N/mm: coils that press on each other do not part."""
    if float(book.initial_tension.force) == 0.0:
        return math.inf
    return 1.0 / book.curve.solve(book.curve.least).compliance

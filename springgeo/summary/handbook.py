"""The handbook's answer for one spring: rate, tension, stresses and margins at each load."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from springgeo.equilibrium.hung import Wound
from springgeo.equilibrium.load_curve import LoadCurve
from springgeo.equilibrium.mounted.states import Mounted
from springgeo.errors import SpecError, refused
from springgeo.materials.material_file import POISSON
from springgeo.mechanics import body, dynamics, hook, initial_tension, rate, static_limits
from springgeo.results.handbook import InitialTension, Stresses, WorkingPoint
from springgeo.results.material import MaterialFacts
from springgeo.results.place import Place
from springgeo.specification.end_names import SIDES
from springgeo.spring.model import SpringModel
from springgeo.summary import origin, solved
from springgeo.summary.asked_points import Given, given_lengths, ranges, working
from springgeo.summary.place import mounted
from springgeo.text import quantity as q
from springgeo.text.shown import said, word
from springgeo.worked.number import number, told

# relative: below it two ends are equally stressed
ALIKE = 1e-6


@dataclass(frozen=True)
class Handbook:
    """Formulas of the textbook applied to a model; see ``springgeo.mechanics`` for sources."""

    model: SpringModel

    @cached_property
    def material(self) -> MaterialFacts:
        """Strength and moduli at this wire diameter and the service temperature.

        Overrides of the specification are figures at 20 degC like the material's own.
        """
        wire, m, d = self.model.spec.wire, self.model.material, self.model.body.wire_diameter
        tensile = origin.tensile_strength(self.model)
        if wire.tensile_strength is not None:
            source = word("given in the specification")
        else:
            strength = m.tensile(d, law=wire.tensile_law)
            source = said(
                "{source} ({known})", source=word(strength.source), known=word(strength.known)
            )
        T = self.model.spec.service.temperature
        stiff, strong = m.modulus_share(T), m.strength_share(T)
        if strong is not None and strong < 1:
            block = m.data.strength_at_temperature
            tensile = origin.at_temperature(tensile, strong, block, T, "S_ut")
            source = said(
                "{source}, times {strong} at {t}",
                source=source,
                strong=q.number(strong),
                t=q.temperature(T, 6),
            )
        loss = m.data.modulus_loss_per_K
        shear = origin.at_temperature(origin.shear_modulus(self.model), stiff, loss, T, "G")
        elastic = origin.at_temperature(origin.elastic_modulus(self.model), stiff, loss, T, "E")
        _require_moduli(shear, elastic)
        return MaterialFacts(
            id=m.id,
            title=m.title,
            tensile_strength=tensile,
            tensile_source=source,
            shear_modulus=shear,
            elastic_modulus=elastic,
            density=origin.density(self.model) * 1e6,
        )

    @cached_property
    def d(self) -> float:
        """Wire diameter, mm."""
        return origin.wire_diameter(self.model)

    @cached_property
    def D(self) -> float:
        """Mean diameter, mm."""
        return origin.mean_diameter(self.model, self.d)

    @cached_property
    def C(self) -> float:
        """Spring index."""
        return number(body.spring_index(self.D, self.d))

    @cached_property
    def L_0(self) -> float:
        """Free length inside hooks, mm."""
        return origin.free_length(self.model)

    @cached_property
    def hooks(self) -> int:
        """How many ends carry the load by a hook of the wire itself."""
        return sum(end.style.holds_load for end in (self.model.first, self.model.second))

    @cached_property
    def hooks_worth(self) -> float:
        """The hooks in hooks of the body's size: one bent on a coil of radius r gives (r/R)³."""
        g = self.model.geometry
        worth = sum(
            (float(self.hook_diameter(end.side)) / (2 * g.coil_radius)) ** 3
            for end in (self.model.first, self.model.second)
            if end.style.holds_load
        )
        return origin.read_off(
            worth,
            "n_h",
            "hooks, in hooks bent on the body's own coils",
            "",
            "each counts (r/R)^3, r the radius of the coil it is bent on; fittings count nothing",
        )

    @cached_property
    def working_coils(self) -> float:
        """Body coils, and what coils wound by the ends are worth beside them."""
        turns, (a, b) = origin.body_coils(self.model), self._wound
        return turns if not a + b else origin.named(turns + a + b, "N_w", "working coils")

    @property
    def _wound(self) -> tuple[float, float]:
        """What coils wound by the ends are worth in body coils."""
        g, title = self.model.geometry, "coils wound by end {}, in body coils"
        a, b = (
            origin.read_off(end.active_coils, f"N_{side}", title.format(side), "")
            for side, end in (("first", g.first), ("second", g.second))
        )
        return a, b

    @cached_property
    def active_coils(self) -> float:
        """N_a = N_b + G/E for two hooks on the body's coils, half of that share for one."""
        m, coils = self.material, self.working_coils
        return number(rate.N_a_hooks(coils, m.shear_modulus, m.elastic_modulus, self.hooks_worth))

    def hook_diameter(self, side: str) -> float:
        """Mean diameter of the coil on which an end's hook is bent, mm."""
        radius = getattr(self.model.geometry, side).hook_radius
        if radius is None:
            return self.D
        what = f"mean diameter of the coil that the hook of end {side} is bent on"
        return origin.read_off(2.0 * radius, "D", what, "mm")

    @cached_property
    def rate(self) -> float:
        """Spring rate, N/mm."""
        return number(rate.rate(self.material.shear_modulus, self.D, self.d, self.active_coils))

    @cached_property
    def initial_tension(self) -> InitialTension:
        """As given, or the middle of the preferred range."""
        spec, c = self.model.spec.body, self.C
        preferred = (
            initial_tension.preferred_shigley(c) if (bool(initial_tension.valid_index(c))) else None
        )
        assumed = False
        if self.model.body.is_open:
            open_wound = "initial tension of open coils"
            force = origin.given(0.0, "F_i", open_wound, "N", "body.pitch or gap")
        elif spec.initial_tension is not None:
            field = "body.initial_tension"
            force = origin.given(spec.initial_tension, "F_i", "initial tension", "N", field)
        elif spec.initial_stress is not None:
            field = "body.initial_stress"
            stress = origin.given(spec.initial_stress, "tau_i", "initial stress", "MPa", field)
            force = number(initial_tension.F_i(stress, self.D, self.d))
        elif preferred is not None:
            force = number(initial_tension.F_i(preferred.middle, self.D, self.d))
            assumed = True
        else:
            raise refused(
                "initial-tension-missing",
                "body.initial_tension",
                f"no preferred range is published for index {c:.3g} (4 to 16 only); give "
                "initial_tension or initial_stress",
            )
        shown = preferred if not self.model.body.is_open else None
        return InitialTension(
            force=force,
            stress=number(initial_tension.tau_i(force, self.D, self.d)),
            preferred_low=None if shown is None else number(shown.low),
            preferred_high=None if shown is None else number(shown.high),
            assumed=assumed,
        )

    @cached_property
    def allowable(self) -> Stresses:
        """Static allowables, MPa: fractions of the tensile strength by point."""
        tensile = self.material.tensile_strength
        body_, bending, torsion = (
            number(static_limits.allowable(share, tensile))
            for share in origin.static_shares(self.model)
        )
        return Stresses(body_shear=body_, hook_bending=bending, hook_torsion=torsion)

    @cached_property
    def mass_active(self) -> float:
        """Mass of the active wire, kg; coils wound by the ends with the wire they truly have."""
        g, density = self.model.geometry, origin.density(self.model)
        ends, turns = g.first.active_wire + g.second.active_wire, self.active_coils
        if not ends:
            return number(dynamics.active_wire_mass(self.D, self.d, turns, density))
        wire = origin.read_off(ends, "l_e", "wire in the coils wound by the ends", "mm")
        for wound in self._wound:
            turns = turns - wound
        body = number(dynamics.active_wire_mass(self.D, self.d, turns, density))
        whole = body + math.pi * self.d**2 / 4 * wire * density
        return origin.named(whole, "m", "mass of the active wire", "kg")

    @cached_property
    def curve(self) -> LoadCurve:
        """Load over length, from the wire's equilibrium: what every working point reads."""
        model, m = self.model, self.material
        tension = None if model.body.is_open else float(self.initial_tension.force)
        E, G = float(m.elastic_modulus), float(m.shear_modulus)
        wound = Wound(model.geometry, E, G, tension)
        made = LoadCurve(wound, model.measured_turning)
        return made if model.turning == made.turning else LoadCurve(wound, model.turning, made)

    @property
    def found_from(self) -> dict[str, float]:
        """What an equilibrium is found from, by symbols: mm, N, MPa."""
        m = self.material
        return {
            "L_0": self.L_0,
            "F_i": self.initial_tension.force,
            "E": m.elastic_modulus,
            "G": m.shear_modulus,
            "D": self.D,
            "d": self.d,
        }

    def length_at(self, load: float) -> float:
        """Length inside hooks, mm, under a load in N, by the load curve."""
        return solved.length(self, load, self.curve.length(float(load)))

    def straight_deflection(self, load: float) -> float:
        """Extension, mm, by the textbook's straight line; zero up to the initial tension."""
        return number(rate.deflection(load, self.initial_tension.force, self.rate))

    def straight_load(self, length: float) -> float:
        """Load, N, by the textbook's straight line at a length beyond the free one, mm."""
        return self.initial_tension.force + self.rate * (length - self.model.geometry.length)

    @cached_property
    def place(self) -> Mounted | None:
        """The spring as its mating section mounts it; None where its pull is straight."""
        return mounted(self.model, self.curve, self.model.spec.mating)

    def load_at(self, length: float) -> float:
        """Load, N, at a length inside hooks, by the load curve; raises SpecError.

        None below the free length, where a spring can be taut as mounted alone; it is refused if
        it is slack there, too.
        """
        try:
            if self.place is not None and length < self.curve.free_length * (1 - 1e-9):
                self.place.solve_length(float(length))
                return solved.load(self, length, 0.0)
            return solved.load(self, length, self.curve.load(float(length)))
        except SpecError as exc:
            raise SpecError(
                f.model_copy(update={"field": "service.lengths"} if f.field == "length" else {})
                for f in exc.findings
            ) from None

    def body_shear(self, load: float) -> float:
        """Corrected shear stress of the body, MPa (Bergsträsser).

        Below the initial tension the coils press on each other and the wire keeps the stress it
        was wound with.
        """
        k = number(body.K_B(self.C))
        return number(body.tau_corrected(max(load, self.initial_tension.force), self.D, self.d, k))

    def hook_bending(self, load: float, side: str) -> float | None:
        """Bending stress at point A of one end, MPa; None without a hook."""
        r1 = getattr(self.model.geometry, side).loop_radius
        if r1 is None:
            return None
        r1 = origin.read_off(r1, "r_1", f"centreline radius of the loop, end {side}", "mm")
        k = number(hook.K_A(hook.bend_index(r1, self.d)))
        return number(hook.sigma_A(load, self.hook_diameter(side), self.d, k))

    def hook_torsion(self, load: float, side: str) -> float | None:
        """Torsion stress at point B of one end, MPa; None without a hook."""
        r2 = getattr(self.model.geometry, side).bend_radius
        if r2 is None:
            return None
        r2 = origin.read_off(r2, "r_2", f"centreline radius of the bend, end {side}", "mm")
        c = told(hook.bend_index(r2, self.d), "formula", symbol="C_2")
        k = number(hook.K_B(c))
        return number(hook.tau_B(load, self.hook_diameter(side), self.d, k))

    def sides(self, load: float) -> dict[str, str | None]:
        """Return the keys of the end bent and of the end twisted harder, ``*`` for both alike."""
        return {
            "hook_bending": worse({s: self.hook_bending(load, s) for s in SIDES})[1],
            "hook_torsion": worse({s: self.hook_torsion(load, s) for s in SIDES})[1],
        }

    def point(self, load: float, length: float | None = None) -> WorkingPoint:
        """Return the working point at a load, N; hook stresses are those of the worse end.

        ``length``, mm, if it is known; by the load curve if left out.
        """
        if length is None:
            length = self.length_at(load)
        sides: dict[str, str | None] = {}
        at_a, sides["hook_bending"] = worse({s: self.hook_bending(load, s) for s in SIDES})
        at_b, sides["hook_torsion"] = worse({s: self.hook_torsion(load, s) for s in SIDES})
        stress = {
            "body_shear": self.body_shear(load),
            "hook_bending": at_a,
            "hook_torsion": at_b,
        }
        allow = self.allowable
        margins = {
            k: None if not v else number(static_limits.margin(getattr(allow, k), v))
            for k, v in stress.items()
        }
        present = {k: v for k, v in margins.items() if v is not None}
        governing = min(present, key=lambda k: present[k]) if present else "none"
        return WorkingPoint(
            load=load,
            length=length,
            deflection=length - self.L_0,
            **stress,
            allowable=allow,
            margin=Stresses(**margins),
            governing=governing,
            place=Place.of(governing, sides.get(governing)) if present else None,
            hook_at_a=sides["hook_bending"],
            hook_at_b=sides["hook_torsion"],
        )

    @cached_property
    def points(self) -> tuple[WorkingPoint, ...]:
        """One working point per load and per length of the specification, by rising load.

        Each is at the load, or at the length, to the letter. The ends of a load spectrum are
        working points too.
        """
        asked = working(self.model.spec.service, self.ranges, self.load_at)
        return tuple(self.point(*x) for x in asked)

    @cached_property
    def ranges(self) -> tuple[tuple[Given, Given, float], ...]:
        """Lowest and highest working point, and count, of every range of the load spectrum."""
        return ranges(self.model.spec.service, self.load_at)

    @cached_property
    def given_lengths(self) -> frozenset[float]:
        """The lengths that are given, of working points and of the spectrum, mm."""
        return given_lengths(self.model.spec.service)

    @property
    def natural_frequency(self) -> float:
        """First frequency with both ends held, Hz; only while the coils are apart."""
        return number(dynamics.f_both_held(self.rate, self.mass_active))


def _require_moduli(G: float, E: float) -> None:
    ratio, (low, high) = E / (2 * G) - 1, POISSON
    if low <= ratio <= high:
        return
    raise refused(
        "moduli-do-not-fit",
        "wire.elastic_modulus",
        said(
            "{e} with a shear modulus of {g} makes Poisson's ratio E/(2G) - 1 = {ratio}, "
            "but {low} to {high} is possible; give an elastic_modulus of {g_2} to {g_3}, or"
            " another shear_modulus",
            **q.stresses(5, e=E, g=G, g_3=2 * G * (1 + high)),
            ratio=q.number(ratio, 3),
            low=q.number(low, 6),
            high=q.number(high, 6),
            g_2=q.stress(2 * G * (1 + low), 5, unit=False),
        ),
    )


def worse(stress: dict[str, float | None]) -> tuple[float | None, str | None]:
    """Return the greater of two ends' stresses and the end's key, ``*`` where they are alike."""
    present = {k: v for k, v in stress.items() if v is not None}
    if not present:
        return None, None
    side = max(present, key=lambda k: present[k])
    alike = len(present) > 1 and min(present.values()) >= present[side] * (1 - ALIKE)
    return present[side], "*" if alike else side

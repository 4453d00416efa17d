"""Changes that a test must notice, chosen by hand: file, tests that are asked, text and new text.

Each text stands once in its file. Where the package's text has moved on, the run says so.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Mutant:
    """One change in one file of the package, and the tests that are asked."""

    file: str
    tests: tuple[str, ...]
    old: str
    new: str

    @property
    def words(self) -> str:
        """File and change in one line."""
        return f"{self.file}: {self.old.strip()} -> {self.new.strip()}"


def of(file: str, tests: str, *changes: tuple[str, str]) -> list[Mutant]:
    """Return the mutants of one file; tests are paths below ``tests``."""
    asked = tuple(f"tests/{name}" for name in tests.split())
    return [Mutant(f"springgeo/{file}", asked, old, new) for old, new in changes]


MUTANTS: tuple[Mutant, ...] = (
    # formulas
    *of(
        "mechanics/body.py",
        "mechanics",
        ("return 8.0 * F * D / (np.pi", "return 4.0 * F * D / (np.pi"),
        ("return (4.0 * C + 2.0) / (4.0 * C - 3.0)", "return (4.0 * C + 2.0) / (4.0 * C + 3.0)"),
    ),
    *of(
        "mechanics/hook.py",
        "mechanics",
        ("16.0 * K_A * D / d + 4.0", "16.0 * K_A * D / d - 4.0"),
        ("(4.0 * C_2 - 1.0) / (4.0 * C_2 - 4.0)", "(4.0 * C_2 + 1.0) / (4.0 * C_2 - 4.0)"),
    ),
    *of("mechanics/rate.py", "mechanics", ("np.maximum(F - F_i, 0.0) / k", "(F - F_i) / k")),
    *of(
        "mechanics/dynamics.py",
        "mechanics",
        ("0.5 * np.sqrt(g_c * k / m)", "0.25 * np.sqrt(g_c * k / m)"),
        ("0.5 * (F + F_i) * s", "0.5 * (F - F_i) * s"),
        ("np.asarray(F_min) > np.asarray(F_i)", "np.asarray(F_min) < np.asarray(F_i)"),
    ),
    *of(
        "mechanics/initial_tension.py",
        "mechanics",
        ("uncorrected = MPA_PER_PSI / K_s(C)", "uncorrected = MPA_PER_PSI * K_s(C) / K_s(C)"),
        ("middle - half_width, middle", "middle + half_width, middle"),
    ),
    # fatigue
    *of(
        "mechanics/fatigue.py",
        "mechanics",
        ("return 0.5 * (s_max - s_min)", "return 0.5 * (s_max + s_min)"),
        ("return 0.5 * (s_max + s_min)", "return 1.0 * (s_max + s_min)"),
        ("1.0 / (s_a / S_e + s_m / S_u)", "1.0 / (s_a / S_e - s_m / S_u)"),
    ),
    *of(
        "mechanics/life.py",
        "mechanics/test_life.py",
        (
            "np.minimum(np.minimum(gerber, goodman), static)",
            "np.minimum(np.maximum(gerber, goodman), static)",
        ),
        ("S_k * (N / N_k) ** -m", "S_k * (N / N_k) ** m"),
        ("least(greatest(found, for_ever), S_r[-1])", "least(least(found, for_ever), S_r[-1])"),
    ),
    *of(
        "mechanics/spectrum.py",
        "mechanics/test_life.py summary/test_fatigue.py",
        ("life = np.minimum(*lives)", "life = np.maximum(*lives)"),
        ("np.asarray(np.sum(np.reshape", "np.asarray(np.max(np.reshape"),
    ),
    *of(
        "summary/fatigue/facts.py",
        "summary/test_fatigue.py summary/test_thresholds.py",
        ("low = min(book.initial_tension.force, high)", "low = 0.0"),
        (
            "np.argmax(high) if np.isnan(alone).any() else np.argmin(alone)",
            "np.argmax(high) if np.isnan(alone).any() else np.argmax(alone)",
        ),
        ("    least = min(every)\n", "    least = max(every)\n"),
        (
            "name, way = min(factors, key=lambda k: factors[k])",
            "name, way = max(factors, key=lambda k: factors[k])",
        ),
    ),
    # the handbook's summary and its aggregation
    *of(
        "summary/handbook.py",
        "summary/test_thresholds.py summary/test_active_coils.py summary/test_verdict.py",
        ("tau_corrected(max(load, self.initial_tension.force), self", "tau_corrected(load, self"),
        ("(2 * g.coil_radius)) ** 3", "(2 * g.coil_radius)) ** 1"),
        (
            "governing = min(present, key=lambda k: present[k])",
            "governing = max(present, key=lambda k: present[k])",
        ),
        (
            "side = max(present, key=lambda k: present[k])",
            "side = min(present, key=lambda k: present[k])",
        ),
        (
            "turns = turns - wound",
            "turns = turns + wound",
        ),
    ),
    *of(
        "summary/wire.py",
        "summary/test_thresholds.py summary/test_verdict.py",
        (
            '{"first": ours & (wire.s < middle), "second": ours & (wire.s >= middle)}',
            '{"first": ours & (wire.s >= middle), "second": ours & (wire.s < middle)}',
        ),
        ("first = min(present, key", "first = max(present, key"),
    ),
    *of(
        "summary/reach/pull.py",
        "summary/test_pull.py",
        (
            "return min(every, key=lambda e: (e[2].length",
            "return max(every, key=lambda e: (e[2].length",
        ),
    ),
    *of(
        "summary/reach/reaching.py",
        "summary/test_pull.py",
        ("        return wound\n", "        return 0.0\n"),
    ),
    *of(
        "summary/verdict.py",
        "summary/test_verdict.py summary/test_fatigue.py",
        ("if least.margin < 1 or tired", "if least.margin < 1 and tired"),
        (
            "return min(found, key=lambda w: w.margin, default=None)",
            "return max(found, key=lambda w: w.margin, default=None)",
        ),
        (
            "cycle.margin is not None and cycle.margin < 1\n",
            "cycle.margin is not None and cycle.margin < 0.5\n",
        ),
    ),
    *of(
        "summary/advice/load.py",
        "summary/test_thresholds.py",
        ("if own < FREQUENCY_RATIO * forcing", "if own < forcing"),
        ("point.load <= force and not", "point.load < force and not"),
        ("and not within(low, stress, high)", "and not within(low, stress, 2 * high)"),
    ),
    *of(
        "summary/advice/shape.py",
        "summary/test_thresholds.py",
        ("if r2 is not None and r2 < least * d", "if r2 is not None and r2 < d"),
    ),
    # stress along the wire
    *of(
        "statics/regions.py",
        "statics/test_regions.py",
        ("APPROACH = 1.5", "APPROACH = 0.5"),
        ("JOINT = 0.06", "JOINT = 0.0"),
        ("(end - start) / 4", "(end - start) / 2"),
    ),
    *of(
        "mechanics/round_wire.py",
        "statics/test_limits.py statics/test_fe.py",
        ("(1 - 3 / 16 * half**2)", "(1 + 3 / 16 * half**2)"),
        ("E * math.pi * d**2 / 4", "E * math.pi * d**2 / 2"),
    ),
    *of(
        "statics/around.py",
        "statics/test_limits.py statics/test_bends.py",
        ("mises2 += 3 * radius2", "mises2 += radius2"),
        ("half *= 0.25", "half *= 0.5"),
    ),
    # sizing
    *of(
        "sizing/search/rules.py",
        "sizing/test_rules.py sizing/test_search.py",
        ("made.frequency * (1 / FREQUENCY_RATIO)", "made.frequency"),
        ("lambda b: b.made.D + b.wires.d", "lambda b: b.made.D"),
        (
            "np.minimum(b.wires.heat - T, T - b.wires.cold)",
            "np.maximum(b.wires.heat - T, T - b.wires.cold)",
        ),
        ("np.minimum(b.index.a.r_2, b.index.b.r_2)", "np.maximum(b.index.a.r_2, b.index.b.r_2)"),
    ),
    *of(
        "sizing/search/closed_form.py",
        "sizing/test_rules.py sizing/test_search.py",
        ("np.maximum(f(a), f(b))", "np.minimum(f(a), f(b))"),
        ("line.F_1 - line.k * (line.L_1 - L_0)", "line.F_1 + line.k * (line.L_1 - L_0)"),
        ("0.5 * p.factors.turns", "p.factors.turns"),
    ),
    *of(
        "sizing/search/tension_rules.py",
        "sizing/test_rules.py sizing/test_search.py",
        ("(1.0 - OPEN_SHARE) - b.made", "(1.0 + OPEN_SHARE) - b.made"),
    ),
    *of(
        "sizing/job/cycle.py",
        "sizing/test_own_cycle.py sizing/test_search.py sizing/test_spectrum.py",
        ("line.F_1 / line.F_2, 1.0", "line.F_2 / line.F_1, 1.0"),
        ("(low / line.F_2, high", "(low / line.F_1, high"),
    ),
    *of(
        "sizing/job/need.py",
        "sizing/test_job.py sizing/test_use_tolerance.py",
        ("2 * (mean - load) / (long - short)", "(mean - load) / (long - short)"),
        ("sum(self.pin_diameters) / 2", "sum(self.pin_diameters)"),
        ("w = 1 / allowed**2", "w = 1 / allowed"),
    ),
    # fit
    *of(
        "fit/end.py",
        "fit/test_report.py fit/test_parts.py fit/test_seat_and_swing.py fit/test_light.py",
        ("(part.hole_diameter - frame.wire) / 2", "(part.hole_diameter - frame.wire)"),
        ("min(part.thickness, part.web)", "max(part.thickness, part.web)"),
        ('"held" if play < way.lift', '"held" if play < 2 * way.lift'),
        ("if way.width >= passage(part)", "if way.width >= 2 * passage(part)"),
    ),
    *of(
        "fit/stroke.py",
        "fit/test_report.py fit/test_stops.py fit/test_parts.py",
        ("max(free, *lengths)", "max(free, min(lengths))"),
        ("last > stops.safe * (1 + 1e-9)", "last > 1.2 * stops.safe"),
    ),
    *of(
        "fit/seat.py",
        "fit/test_seat_and_swing.py",
        ("inside - math.sqrt(inside**2 - half**2)", "math.sqrt(inside**2 - half**2)"),
        ("(wire / 2 + radius) * normal", "(wire / 2 - radius) * normal"),
    ),
    # measure
    *of(
        "measure/measured.py",
        "measure",
        ("3 * sizes.outside.u / D,", "sizes.outside.u / D,"),
        ("4 * d.u / d.value + 3 * d.u / D", "4 * d.u / d.value"),
        ("max(u, scatter) / np.sqrt(n)", "min(u, scatter) / np.sqrt(n)"),
    ),
    *of(
        "measure/signs.py",
        "measure/test_signs.py",
        ("CLOSED = 0.02", "CLOSED = 0.04"),
        ("> CLOSED * g.wire_diameter + 2 * u", "> CLOSED * g.wire_diameter - 2 * u"),
        ("> 0.05 * model + 2 * free.u", "> 0.1 * model + 2 * free.u"),
        ("abs(line.bend) > 4", "abs(line.bend) > 8"),
        ("line.scatter > 3", "line.scatter > 6"),
        ("if t.high <= 0", "if t.low <= 0"),
    ),
    *of(
        "measure/line_fit.py",
        "measure/test_line_fit.py measure/test_measure.py",
        ("dof = len(x) - 2", "dof = len(x)"),
        ("(1 + confidence) / 2", "confidence"),
    ),
    # equilibrium
    *of(
        "equilibrium/contact/stand.py",
        "equilibrium/test_limits.py::test_pins_balance_each_other equilibrium/test_places.py",
        ("turn[1] -= steep * line[:, 2]", "turn[1] += steep * line[:, 2]"),
        ("turn[2] += steep * line[:, 1]", "turn[2] -= steep * line[:, 1]"),
    ),
    *of(
        "equilibrium/contact/pressing.py",
        "equilibrium/test_places.py",
        ("own[:, :, 0] += bent", "own[:, :, 0] -= bent"),
        ("own[:, i, i] -= trace", "own[:, i, i] += trace"),
    ),
    *of(
        "mechanics/rate.py",
        "mechanics summary/test_active_coils.py",
        ("N_b + G / E * n_h / 2.0", "N_b + G / E * n_h"),
    ),
    *of(
        "equilibrium/prestress.py",
        "equilibrium/test_load_curve.py",
        ("first.load - rate * first.extension", "first.load + rate * first.extension"),
    ),
    *of(
        "equilibrium/state/forces.py",
        "equilibrium/test_limits.py::test_wire_bears_what_statics_says",
        ("self.far[cell] - point", "point - self.far[cell]"),
    ),
)

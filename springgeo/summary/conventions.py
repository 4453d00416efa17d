"""What other books and standards say beside the handbook's answer."""

from __future__ import annotations

from springgeo.mechanics import body, initial_tension, rate, static_limits
from springgeo.results.handbook import Convention, StaticCheck, StressRange
from springgeo.summary.handbook import Handbook


def rate_conventions(book: Handbook) -> dict[str, Convention]:
    """Return active coils and rate by the three conventions in use."""
    turns, hooks = book.working_coils, book.hooks_worth
    coils = {
        "N_b + G/E (Shigley 10-40)": book.active_coils,
        "N_b + 1/2 coil per hook (Machinery's Handbook)": float(
            rate.N_a_half_coil_per_hook(turns, hooks)
        ),
        "n = n_t (EN 13906-2)": float(rate.n_EN(turns)),
    }
    g, big, small = book.material.shear_modulus, book.model.body, book.model.body.wire_diameter
    return {
        name: Convention(active_coils=n, rate=float(rate.rate(g, big.mean_diameter, small, n)))
        for name, n in coils.items()
    }


def tension_ranges(book: Handbook) -> tuple[StressRange, ...]:
    """Return the published preferred ranges at this index; none outside 4 to 16 or if open."""
    c = book.model.body.index
    if book.model.body.is_open or not bool(initial_tension.valid_index(c)):
        return ()
    forms = (
        (initial_tension.preferred_shigley(c), "Shigley 10-41"),
        (initial_tension.preferred_norton(c), "Norton 14.21"),
    )
    found = [
        StressRange(low=float(r.low), middle=float(r.middle), high=float(r.high), source=source)
        for r, source in forms
    ]
    middle = float(initial_tension.tau_0_JIS(c, book.material.shear_modulus))
    found.append(StressRange(low=None, middle=middle, high=None, source="JIS B 2704-1"))
    return tuple(found)


def static_check(book: Handbook) -> StaticCheck | None:
    """Return EN 13906-2's static check: uncorrected shear against a share of the strength.

    None without a load, or for a material the standard does not cover.
    """
    share = book.model.material.static_en
    if share is None or not book.points or book.points[-1].load <= 0:
        return None
    load, b = book.points[-1].load, book.model.body
    stress = float(body.tau_uncorrected(load, b.mean_diameter, b.wire_diameter))
    allowable = float(static_limits.tau_zul_EN(book.material.tensile_strength, share))
    return StaticCheck(
        standard="EN 13906-2, static, cold coiled (as quoted by a spring maker)",
        stress=stress,
        allowable=allowable,
        margin=float(static_limits.margin(allowable, stress)),
    )

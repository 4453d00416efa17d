"""What other books and standards say beside the handbook's answer."""

from __future__ import annotations

from springgeo.mechanics import body, initial_tension, rate, static_limits
from springgeo.results.handbook import Convention, StaticCheck, StressRange
from springgeo.summary import origin
from springgeo.summary.handbook import Handbook
from springgeo.text.shown import word
from springgeo.worked.number import number


def rate_conventions(book: Handbook) -> dict[str, Convention]:
    """Return active coils and rate by the three conventions in use."""
    turns, hooks = book.working_coils, book.hooks_worth
    coils = {
        word("N_b + G/E (Shigley 10-40)"): book.active_coils,
        word("N_b + 1/2 coil per hook (Machinery's Handbook)"): number(
            rate.N_a_half_coil_per_hook(turns, hooks)
        ),
        word("n = n_t (EN 13906-2)"): number(rate.n_EN(turns)),
    }
    G = book.material.shear_modulus
    return {
        name: Convention(active_coils=n, rate=number(rate.rate(G, book.D, book.d, n)))
        for name, n in coils.items()
    }


def tension_ranges(book: Handbook) -> tuple[StressRange, ...]:
    """Return the published preferred ranges at this index; none outside 4 to 16 or if open."""
    c = book.C
    if book.model.body.is_open or not bool(initial_tension.valid_index(c)):
        return ()
    forms = (
        (initial_tension.preferred_shigley(c), "Shigley 10-41"),
        (initial_tension.preferred_norton(c), "Norton 14.21"),
    )
    found = [
        StressRange(low=number(r.low), middle=number(r.middle), high=number(r.high), source=source)
        for r, source in forms
    ]
    middle = number(initial_tension.tau_0_JIS(c, book.material.shear_modulus))
    found.append(StressRange(low=None, middle=middle, high=None, source="JIS B 2704-1"))
    return tuple(found)


def static_check(book: Handbook) -> StaticCheck | None:
    """Return EN 13906-2's static check: uncorrected shear against a share of the strength.

    None without a load, or for a material the standard does not cover.
    """
    share = book.model.material.static_en
    if share is None or not book.points or book.points[-1].load <= 0:
        return None
    load, block = book.points[-1].load, book.model.material.data.static_en
    share = origin.data(share, block, "fraction", "static allowable over tensile strength", "")
    stress = number(body.tau_uncorrected(load, book.D, book.d))
    allowable = number(static_limits.tau_zul_EN(book.material.tensile_strength, share))
    return StaticCheck(
        standard="EN 13906-2, static, cold coiled (as quoted by a spring maker)",
        stress=stress,
        allowable=allowable,
        margin=number(static_limits.margin(allowable, stress)),
    )

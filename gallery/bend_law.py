"""Where the law of the bent bar comes from: fits ``springgeo/statics/bent_bar.json``.

Run ``python gallery/bend_law.py OUT.json`` (a quarter of an hour). Four steps, all from the
finite elements of ``bent_bar.py``:

1. **First order.** A jump of curvature from 0 to ±0.02/a between straight wire and an arc; half
   the difference is linear in the curvature, and by superposition it answers every other course
   of it. Each response is a sum of exponentials of four rates.
2. **Even bends.** Arcs of κ a up to 0.55: polynomials for the terms of higher order.
3. **Uneven bends.** In the terms of higher order the curvature is averaged before it is raised to
   a power. The weights, and those of further products, are fitted to the arcs of
   ``bend_family.singles`` and to the chains marked ``fitted``.
4. **Short and neighbouring bends.** What is left is greatest where the averages differ most: in
   bends shorter than a diameter and next to others. Pairs of terms, of an even and an odd average
   added and subtracted, are fitted to it, with more weight there.
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterable
from pathlib import Path as File

import numpy as np
from bend_family import DATA, Chain, Influence, influence, path_of, singles
from bend_terms import USUAL, Complex, Term, lowest, monomial, phase_of, signs_of, straight
from bent_bar import Array, Section
from scipy.optimize import least_squares

from springgeo.curve import Samples
from springgeo.statics.coefficients import STRESSES
from springgeo.statics.felt import felt

RATES = np.array([3.5, 5.0, 9.0, 40.0])
NODES = (0.0, 0.3, 0.4)  # of Poisson's ratio
EVEN = (0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.55)
JUMP, REACH, LEAD = 0.02, 2.2, 0.8
# least value at κ a = 1/2 of a term worth having: bending and torsion matter more
WORTH = {"N": 0.012, "T": 0.003, "V": 0.012, "M": 0.003}
RIDGE, THIN, SPACING, SINGLE = 1e-3, 3, 0.06, 2.0
# load (* conjugate), stress, harmonic, whether even; the factor on the load is z̄ (z for m = 0)
FIRST = [
    ("N", "axial", 1, True), ("N", "hoop", 1, True), ("N", "shear", 1, False),
    ("T", "axial", 1, False), ("T", "hoop", 1, False), ("T", "shear", 1, True),
    ("M*", "axial", 0, True), ("M*", "axial", 2, True), ("M*", "hoop", 0, True),
    ("M*", "hoop", 2, True), ("M*", "shear", 2, False), ("V*", "shear", 0, True),
    ("V*", "shear", 2, True), ("V*", "axial", 0, False), ("V*", "axial", 2, False),
    ("V*", "hoop", 0, False), ("V*", "hoop", 2, False),
]  # fmt: skip
# second order, even times odd: load, stress, harmonic; the factor is z̄²
MIXED = [("T", "hoop", 2), ("T", "axial", 2), ("M*", "shear", 3), ("M", "shear", 1)]
# pairs of terms for what is left in short bends: load, stress, harmonic, how many
PAIRS = [
    ("M*", "axial", 0, 2), ("M*", "axial", 2, 2), ("M*", "axial", 4, 2), ("M", "axial", 2, 1),
    ("M*", "shear", 4, 1), ("M", "shear", 2, 1), ("T", "hoop", 1, 1), ("T", "hoop", 3, 1),
    ("T", "axial", 3, 1), ("T", "axial", 2, 1), ("T", "axial", 1, 1), ("T", "shear", 1, 2),
    ("M*", "hoop", 0, 1), ("M*", "hoop", 3, 1), ("M*", "axial", 3, 1),
    ("V*", "axial", 3, 1), ("V*", "axial", 1, 1), ("V*", "axial", 2, 1), ("N", "axial", 2, 1),
]  # fmt: skip
# weight of a station: difference of its averages over this, but not below the other
UNEVEN, LEVEL, STARTS = 0.1, 0.3, 4


def averages(found: Influence) -> Complex:
    """Return the curvature felt, both sides and difference, ``(8, n)``, in the frame n1."""
    path, s = path_of(found.chain), found.s
    inside = 1e-9
    both_sides = np.concatenate([path.starts[:-1] + inside, path.starts[1:] - inside])
    every = np.sort(np.concatenate([s, both_sides]))
    wire = Samples(
        every, path.find(every), path.point(every), path.tangent(every),
        path.curvature(every), path.normal(every),
    )  # fmt: skip
    here = felt(wire, 1.0, RATES)[np.isin(every, s)]
    turn = np.einsum("ij,ij->i", found.n1, here.n) + 1j * np.einsum("ij,ij->i", found.n1, here.b)
    here = here.turned(turn)
    return np.concatenate([here.before + here.after, here.after - here.before])


def forms(found: Influence) -> dict[str, Complex]:
    """Return the harmonics' factors ``(n, 7, 3)`` on N, T and on V, M and their conjugates."""
    c = np.moveaxis(np.fft.rfft(found.stress, axis=2)[:, :, :7], 1, 0)
    c = c * (2 / found.stress.shape[2])
    c[:, :, 0] /= 2
    N, Vn, Vb, T, Mn, Mb = c
    out = {"N": N, "T": T}
    for name, n, b in (("V", Vn, Vb), ("M", Mn, Mb)):
        out[name + "*"], out[name] = (n + 1j * b) / 2, (n - 1j * b) / 2
    for name in ("V*", "M*"):  # the mean's two factors are one, since it is real
        out[name][:, 0] *= 2
    return out


def is_single(chain: Chain) -> bool:
    """Return whether a chain is one bend between straight wires."""
    return len(chain) == 3 and chain[0][0] == 0 == chain[2][0]


def first_order(nu: float) -> list[Term]:
    """Return the terms of first order at one Poisson's ratio, from a jump of curvature."""
    section = Section(nu, degree=10)
    jumps = [[(0.0, 0.0, 4.0), (2 * JUMP, plane, 5.0)] for plane in (0.0, np.pi)]
    found = [influence(jump, section, 0.03, 0.25) for jump in jumps]
    near = np.abs(found[0].s - 4.0) < REACH
    z = averages(found[0])[:, near] / JUMP
    plus, minus = (forms(f) for f in found)
    out = []
    for load, stress, m, even in FIRST:
        phase, (bars, plain) = phase_of(load, stress), (1, 0) if m else (0, 1)
        change = (plus[load] - minus[load])[near, m, STRESSES.index(stress)] / (2 * JUMP * phase)
        features = monomial(z[:4] if even else z[4:], bars, plain)
        rows = np.concatenate([features.real, features.imag], axis=1).T
        target = np.concatenate([change.real, change.imag])
        if even:  # on an even bend all averages are the curvature
            whole = (change[-1] / features[0, -1]).real
            rows = np.vstack([rows, 1e4 * np.ones(4)])
            target = np.append(target, 1e4 * whole)
        w = np.linalg.lstsq(rows, target, rcond=None)[0]
        weights = np.concatenate([w, 0 * w] if even else [0 * w, w])
        out.append(Term(load, stress, m, bars, plain, phase, {nu: weights}, {USUAL: np.ones(1)}))
    return out


def even_bends(nu: float, first: list[Term]) -> dict[tuple[str, str, int], Array]:
    """Return polynomials in ``|z|²`` of the higher terms by load, stress, harmonic."""
    section, values = Section(nu, degree=10), []
    for e in EVEN:
        found = influence([(2 * e, 0.0, 5.0)], section, 0.25, 0.35)
        middle = np.abs(found.s - 2.5) < 0.5
        z = averages(found)[:, middle][0]
        values.append((z, {k: v[middle] for k, v in forms(found).items()}))
    e, out = np.array(EVEN), {}
    known = {(t.load, t.stress, t.harmonic): t.weights[nu][:4].sum() for t in first}
    for load in values[0][1]:
        for j, stress in enumerate(STRESSES):
            if (stress == "shear") != (load[0] in "TV"):
                continue  # on an even bend such a stress has no cause
            for m in range(7):
                if m == 0 and load in ("V", "M"):
                    continue
                bars, plain = lowest(load, m)
                y = [
                    ((f[load][:, m, j] - straight(load, stress, m, nu)) / phase_of(load, stress)
                     / (monomial(z, bars, plain) / np.abs(z) ** (bars + plain))).real.mean()
                    for z, f in values
                ]  # fmt: skip
                order, skip = bars + plain, int(bars + plain < 2)
                rest = np.array(y) - known.get((load, stress, m), 0.0) * e
                base = np.stack([e ** (order + 2 * (skip + k)) for k in range(3)], axis=1)
                c = np.linalg.lstsq(base, rest, rcond=None)[0]
                out[load, stress, m] = np.concatenate([np.zeros(skip), c])
    return out


class Fit:
    """What is left of the family after the terms known so far."""

    def __init__(self, family: Iterable[Influence], first: list[Term]) -> None:
        both, rest, weight, count = [], [], [], []
        for found in family:
            kept = (found.s > LEAD) & (found.s < found.s[-1] - LEAD)
            # stations crowd at joints: each counts for the wire it stands for
            weight.append(np.sqrt(np.gradient(found.s)[kept] / SPACING))
            # most hooks are single bends
            count.append(np.full(kept.sum(), SINGLE if is_single(found.chain) else 1.0))
            both.append(averages(found)[:, kept])
            rest.append({k: v[kept] for k, v in forms(found).items()})
        self.both = np.concatenate(both, axis=1)[:, ::THIN]
        self.count = np.concatenate(count)[::THIN]
        self.weight = self.count * np.concatenate(weight)[::THIN]
        self.rest = {k: np.concatenate([r[k] for r in rest])[::THIN] for k in rest[0]}
        for load, values in self.rest.items():
            for j, stress in enumerate(STRESSES):
                for m in range(7):
                    values[:, m, j] -= straight(load, stress, m, USUAL)
        for term in first:
            self.take(term)

    def take(self, term: Term) -> None:
        """Subtract a term."""
        j = STRESSES.index(term.stress)
        self.rest[term.load][:, term.harmonic, j] -= term.phase * term.factor(self.both)

    def of(self, load: str, stress: str, m: int) -> Complex:
        """Return what is left, over its phase."""
        return self.rest[load][:, m, STRESSES.index(stress)] / phase_of(load, stress)

    def least(self, model, start: Array, target: Complex) -> Array:
        """Return the parameters that fit best."""
        scale = RIDGE * np.sqrt(len(target) / 100)

        def off(x: Array) -> Array:
            d = self.weight * (model(x) - target)
            return np.concatenate([d.real, d.imag, scale * x])

        return least_squares(off, start, max_nfev=80).x

    def higher(self, load: str, stress: str, m: int, c: Array) -> list[Term]:
        """Return the terms of one harmonic: its polynomial, and products of its lowest order."""
        bars, plain = lowest(load, m)
        even, odd = self.both[:4], self.both[4:]
        lead = int(np.argmax(c != 0.0))
        order = bars + plain + 2 * lead
        more = load in "M*T" and (stress != "hoop" or m == 1)
        second, third = more and order == 2, more and order == 3 and abs(c[lead]) > 0.05
        only = np.zeros(lead + 1)
        only[lead] = 1.0

        def term(w: Array, powers: Array, shift: bool = False) -> Term:
            eight = np.concatenate([0 * w, w] if shift else [w, 0 * w])
            phase = phase_of(load, stress)
            return Term(load, stress, m, bars, plain, phase, {USUAL: eight}, {USUAL: powers})

        def terms(x: Array) -> list[Term]:
            w = np.append(x[:3], 1 - x[:3].sum())
            if second:
                beside = [term(x[3:7], only, shift=True), term(x[7:11], -only, shift=True)]
                return [term(w, c), *beside]
            if third:
                less = c.copy()
                less[lead] *= 1 - x[3]
                other = np.append(x[4:7], 1 - x[4:7].sum())
                return [term(w, less), term(other, c[lead] * x[3] * only)]
            return [term(w, c)]

        start = [0.0, 0.3, 0.6]
        if second:
            start += [0.05, 0.1, 0.02, 0.0, 0.025, 0.15, 0.01, 0.0]
        elif third:
            start += [0.3, -1.0, 2.0, -0.5]
        both = np.concatenate([even, odd])
        x = self.least(
            lambda x: np.sum([t.factor(both) for t in terms(x)], axis=0),
            np.array(start),
            self.of(load, stress, m),
        )
        return terms(x)

    def mixed(self, load: str, stress: str, m: int) -> list[Term]:
        """Return the product of an even and an odd average, as a difference of two squares."""
        even, odd, target = self.both[:4], self.both[4:], self.of(load, stress, m)
        tries = []
        for sign in (1, -1):
            start = np.array([0.2, 0.3, 0.3, 0.1, *(sign * np.array([0.1, 0.2, 0.1, 0.0]))])
            x = self.least(lambda x: ((x[:4] @ even) * (x[4:] @ odd)).conj(), start, target)
            off = np.sum(np.abs(((x[:4] @ even) * (x[4:] @ odd)).conj() - target) ** 2)
            tries.append((off, x))
        x = min(tries, key=lambda t: t[0])[1]
        phase = phase_of(load, stress)
        weights = [np.concatenate([x[:4], s * x[4:]]) for s in (1, -1)]
        return [
            Term(load, stress, m, 2, 0, phase, {USUAL: w}, {USUAL: np.array([s / 4])})
            for w, s in zip(weights, (1, -1), strict=True)
        ]

    def pairs(self, load: str, stress: str, m: int, count: int) -> list[Term]:
        """Return ``count`` pairs of terms for what is left, of an even and an odd average each.

        The sum of a power of both added and of both subtracted is even, the difference odd.
        """
        bars, plain = lowest(load, m)
        k = int(bars + plain < 2)
        # a stress that an even bend has, or one that it has not
        same = 1 if (stress == "shear") == (load[0] in "TV") else -1
        even, odd, target = self.both[:4], self.both[4:], self.of(load, stress, m)
        spread = np.abs(even[3] - even[0]) + np.abs(odd[3] - odd[0])
        weight = self.count * np.maximum(spread / UNEVEN, LEVEL)
        scale = RIDGE * np.sqrt(len(target) / 100)

        def power(y: Complex) -> Complex:
            return monomial(y, bars, plain) * np.abs(y) ** (2 * k)

        def model(x: Array, signs: Array) -> Complex:
            out = np.zeros_like(target)
            for w, sign in zip(x.reshape(count, 8), signs, strict=True):
                e, o = w[:4] @ even, w[4:] @ odd
                out += sign * (power(e + o) + same * power(e - o))
            return out

        rng, best = np.random.default_rng(1), (np.inf, np.zeros(0), np.zeros(0))
        for signs in signs_of(bars + plain, count):
            for _ in range(STARTS):

                def off(x: Array, signs: Array = signs) -> Array:
                    d = weight * (model(x, signs) - target)
                    return np.concatenate([d.real, d.imag, scale * x])

                found = least_squares(off, 0.3 * rng.normal(size=8 * count), max_nfev=120)
                if found.cost < best[0]:
                    best = (found.cost, found.x, signs)
        out = []
        for w, sign in zip(best[1].reshape(count, 8), best[2], strict=True):
            for side in (1, -1):
                powers = np.zeros(k + 1)
                powers[k] = sign * (same if side < 0 else 1)
                weights = np.concatenate([w[:4], side * w[4:]])
                phase = phase_of(load, stress)
                out.append(
                    Term(load, stress, m, bars, plain, phase, {USUAL: weights}, {USUAL: powers})
                )
        return out


def law(family: Iterable[Influence]) -> list[Term]:
    """Return all terms."""
    firsts = {nu: first_order(nu) for nu in NODES}
    evens = {nu: even_bends(nu, firsts[nu]) for nu in NODES}
    out = firsts[USUAL]
    for i, term in enumerate(out):
        term.weights = {nu: firsts[nu][i].weights[nu] for nu in NODES}
    fit = Fit(family, out)
    for key, c in evens[USUAL].items():
        order = sum(lowest(key[0], key[2]))
        if abs(np.polyval(c[::-1], 0.25) * 0.5**order) < WORTH[key[0][0]]:
            continue
        terms = fit.higher(*key, c)
        # the other Poisson's ratios: their own polynomial, in the same proportion
        lead, own = int(np.argmax(c != 0.0)), terms[0].powers[USUAL]
        for nu in NODES:
            powers = evens[nu][key].copy()
            powers[lead] *= own[lead] / c[lead]
            terms[0].powers[nu] = powers
        terms[0].powers = {nu: terms[0].powers[nu] for nu in NODES}
        for term in terms:
            fit.take(term)
        out += terms
    for key in MIXED:
        terms = fit.mixed(*key)
        for term in terms:
            fit.take(term)
        out += terms
    for load, stress, m, count in PAIRS:
        terms = fit.pairs(load, stress, m, count)
        for term in terms:
            fit.take(term)
        out += terms
    return out


def main() -> None:
    """Fit and write."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("out", type=File, help="the JSON file to write")
    out = parser.parse_args().out
    stored = json.loads(DATA.read_text("utf-8"))["chains"]
    fitted = [[tuple(part) for part in entry["parts"]] for entry in stored if entry["fitted"]]
    chains: list[Chain] = [*singles(), *fitted]
    section = Section()
    terms = law(influence(chain, section) for chain in chains)
    shown = next(t for t in terms if (t.load, t.stress, t.harmonic) == ("M*", "axial", 2))
    weights = shown.weights[USUAL][:4]
    data = {
        "about": "How the surface stress of a bent round bar answers to the curvature along the "
        "wire: terms of springgeo.statics.coefficients.Law.",
        "source": "own finite elements: gallery/bend_law.py",
        "nu": NODES,
        "rates": RATES.tolist(),
        "shown": np.round(weights / weights.sum(), 5).tolist(),
        "terms": [term.as_row() for term in terms],
    }
    out.write_text(json.dumps(data) + "\n", "utf-8")
    print(f"{len(terms)} terms")


if __name__ == "__main__":
    main()

"""Finite elements of a round bar along any centreline, in the bar's own coordinates.

The bar is seen in a section frame that does not spin about the wire; there its geometry is the
curvature alone, and the coordinates are orthogonal: a length along the wire counts
``h = 1 − κ·x``. Displacements are polynomials over the section times piecewise polynomials along
the wire; the equations are those of the three-dimensional solid, nothing is assumed about the
section's deformation. Surface stresses are evaluated on the surface itself. A hook takes a
second or two on one core, and the stress is converged to about 0.1 % (``finite_elements.py
--solver bar`` beside ``ccx``). Needs scipy.

Lengths inside are in units of the radius and E = 1.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import pairwise

import numpy as np
import numpy.typing as npt
from scipy.linalg import cho_solve, cholesky, solve_triangular
from scipy.special import eval_jacobi

from springgeo.curve import Path

Array = npt.NDArray[np.float64]
AROUND = 72
SPIN_STEP = 1e-5
DEGREE, ALONG = 8, 4  # of the polynomials over the section and along a cell


def polynomials(x: Array, degree: int) -> tuple[Array, Array, Array]:
    """Return Zernike's polynomials and their gradients at points ``(n, 2)``, ``(n, b)`` each."""
    r, f = np.hypot(x[:, 0], x[:, 1]), np.arctan2(x[:, 1], x[:, 0])
    z, out = 2 * r * r - 1, []
    for m in range(degree + 1):
        power = r ** (m - 1) if m else np.zeros_like(r)
        for k in range((degree - m) // 2 + 1):
            size = np.sqrt((2 if m else 1) * (m + 2 * k + 1) / np.pi)
            value = eval_jacobi(k, 0, m, z)
            slope = (k + m + 1) / 2 * eval_jacobi(k - 1, 1, m + 1, z) if k else 0 * z
            radial = size * r**m * value
            across = size * power * value
            outward = m * across + 4 * size * r ** (m + 1) * slope
            waves = ((np.cos(m * f), -m * np.sin(m * f)), (np.sin(m * f), m * np.cos(m * f)))
            for wave, turn in waves[: 2 if m else 1]:
                grad_r, grad_f = outward * wave, across * turn
                out.append(
                    (
                        radial * wave,
                        grad_r * np.cos(f) - grad_f * np.sin(f),
                        grad_r * np.sin(f) + grad_f * np.cos(f),
                    )
                )
    value, along_x, along_y = np.moveaxis(np.array(out), 0, 2)
    return value, along_x, along_y


def elasticity(nu: float) -> Array:
    """Return the stiffness ``(6, 6)`` for tt, 11, 22, t1, t2, 12 at E = 1."""
    lam, mu = nu / ((1 + nu) * (1 - 2 * nu)), 1 / (2 * (1 + nu))
    out = np.diag([2 * mu] * 3 + [mu] * 3)
    out[:3, :3] += lam
    return out


class Section:
    """The section's matrices for any curvature, by interpolation in its size."""

    def __init__(self, nu: float = 0.3, degree: int = DEGREE, largest: float = 0.6) -> None:
        self.degree, self.stiffness = degree, elasticity(nu)
        radial, around = degree + 4, 4 * degree
        r, w = np.polynomial.legendre.leggauss(radial)
        r, w = (r + 1) / 2, w / 2
        phi = 2 * np.pi * (np.arange(around) + 0.5) / around
        self.x = np.stack([np.outer(r, np.cos(phi)).ravel(), np.outer(r, np.sin(phi)).ravel()], 1)
        self.weight = np.outer(w * r, np.full(around, 2 * np.pi / around)).ravel()
        self.basis = polynomials(self.x, degree)
        self.count = 3 * self.basis[0].shape[1]
        points = np.pi * (np.arange(12) + 0.5) / 12
        self._nodes = largest / 2 * (1 - np.cos(points))
        self._bary = (-1.0) ** np.arange(12) * np.sin(points)
        self._known = np.stack([np.stack(self._matrices(k)) for k in self._nodes])
        self.at = lru_cache(200)(self._at)

    def operators(self, basis: tuple[Array, Array, Array], x: Array, k1: float, k2: float):
        """Return strain from displacement and from its change along the wire, ``(n, 6, c)``."""
        b, bx, by = basis
        n = b.shape[1]
        h = (1 - k1 * x[:, 0] - k2 * x[:, 1])[:, None]
        still, along = (np.zeros((len(x), 6, 3 * n)) for _ in range(2))
        t, u, v = slice(0, n), slice(n, 2 * n), slice(2 * n, 3 * n)
        still[:, 0, u], still[:, 0, v] = -k1 * b / h, -k2 * b / h
        still[:, 3, t], still[:, 4, t] = k1 * b / h + bx, k2 * b / h + by
        still[:, 1, u], still[:, 2, v] = bx, by
        still[:, 5, u], still[:, 5, v] = by, bx
        along[:, 0, t] = along[:, 3, u] = along[:, 4, v] = b / h
        return still, along, h[:, 0]

    def _matrices(self, k: float) -> tuple[Array, Array, Array]:
        still, along, h = self.operators(self.basis, self.x, k, 0.0)
        w = (self.weight * h)[:, None, None]
        flat = [
            a.reshape(-1, self.count)
            for a in (still, along, w * (self.stiffness @ still), w * (self.stiffness @ along))
        ]
        return flat[0].T @ flat[2], flat[0].T @ flat[3], flat[1].T @ flat[3]

    def _turn(self, angle: float) -> Array:
        """Return the matrix to coefficients in a frame turned by ``angle``."""
        n, i = self.count // 3, 0
        out = np.zeros((n, n))
        for m in range(self.degree + 1):
            c, s = np.cos(m * angle), np.sin(m * angle)
            block = np.array([[c, s], [-s, c]]) if m else np.eye(1)
            for _ in range((self.degree - m) // 2 + 1):
                j = i + len(block)
                out[i:j, i:j] = block
                i = j
        c, s = np.cos(angle), np.sin(angle)
        return np.kron(np.array([[1, 0, 0], [0, c, s], [0, -s, c]]), out)

    def _at(self, k1: float, k2: float) -> Array:
        """Return the three matrices ``(3, c, c)`` at a curvature."""
        size, angle = np.hypot(k1, k2), np.arctan2(k2, k1)
        off = size - self._nodes
        share = self._bary / np.where(np.abs(off) < 1e-13, 1e-13, off)
        out: Array = np.einsum("i,iabc->abc", share / share.sum(), self._known)
        if size > 0 and angle != 0:
            turn = self._turn(angle)
            out = turn.T @ out @ turn
        return out

    def of_field(self, t: Array, u: Array, v: Array) -> Array:
        """Return ``∫ basis · field`` over the section, ``(c,)``."""
        return np.concatenate([self.basis[0].T @ (self.weight * f) for f in (t, u, v)])


def frames(path: Path, s: Array) -> tuple[Array, Array]:
    """Return two unit vectors across the wire that do not spin about it, at sorted ``s``."""

    def spin(x: Array) -> Array:
        i = path.find(x)
        low = np.maximum(x - SPIN_STEP, path.starts[i] + 1e-12)
        high = np.minimum(x + SPIN_STEP, path.starts[i + 1] - 1e-12)
        change = (path.normal(high) - path.normal(low)) / (high - low)[:, None]
        return np.einsum("ij,ij->i", change, np.cross(path.tangent(x), path.normal(x)))

    x, w = np.polynomial.legendre.leggauss(4)
    inside = path.starts[(path.starts > s[0]) & (path.starts < s[-1])]
    edges = np.unique(np.concatenate([s, inside]))
    half = np.diff(edges) / 2
    q = edges[:-1, None] + half[:, None] * (1 + x)
    turned = np.cumsum(np.sum(spin(q.ravel()).reshape(q.shape) * w, axis=1) * half)
    angle = np.interp(s, edges, np.concatenate([[0.0], turned]))[:, None]
    n = path.normal(s)
    b = np.cross(path.tangent(s), n)
    return np.cos(angle) * n - np.sin(angle) * b, np.sin(angle) * n + np.cos(angle) * b


@dataclass(frozen=True, eq=False)
class Found:
    """Stresses ``(loads, n, 72, 4)``: axial, hoop, shear, and radial, which should be zero.

    At stations ``s`` and angles from ``n1`` toward ``n2``; section forces ``(loads, n, 3)``.
    """

    s: Array
    stress: Array
    t: Array
    n1: Array
    n2: Array
    force: Array
    moment: Array


def cells(path: Path, low: float, high: float, fine: float, coarse: float) -> Array:
    """Return the ends of the cells: ``fine`` at joints, up to ``coarse`` away from them, mm."""
    inside = path.starts[(path.starts > low + 1e-9) & (path.starts < high - 1e-9)]
    cuts, out = np.concatenate([[low], inside, [high]]), [np.array([low])]
    for a, b in pairwise(cuts):
        s = np.linspace(a, b, 1001)
        away = np.abs(s[:, None] - path.starts).min(axis=1)
        per = 1 / np.clip(fine + 0.45 * away, fine, coarse)
        count = np.concatenate([[0.0], np.cumsum(np.diff(s) * (per[1:] + per[:-1]) / 2)])
        n = max(1, int(np.ceil(count[-1])))
        out.append(np.interp(np.linspace(0, count[-1], n + 1), count, s)[1:])
    return np.concatenate(out)


@cache
def _along(p: int) -> tuple[Array, ...]:
    """Return values and slopes of a cell's polynomials at points to integrate and to read."""
    gauss, weight = np.polynomial.legendre.leggauss(p + 1)
    read = np.polynomial.legendre.leggauss(p)[0]
    slope = np.polynomial.legendre.Legendre.basis(p).deriv().roots()
    nodes = np.sort(np.concatenate([[-1.0], slope.real, [1.0]]))
    back = np.linalg.inv(np.polynomial.legendre.legvander(nodes, p))
    change = np.polynomial.legendre.legder(np.eye(p + 1))
    out = [gauss, weight, read]
    for x in (gauss, read):
        out.append(np.polynomial.legendre.legvander(x, p) @ back)
        out.append(np.polynomial.legendre.legval(x, change).T @ back)
    return tuple(out)


def solve(
    path: Path,
    low: float,
    high: float,
    diameter: float,
    loads: list[tuple[Array, Array]],
    section: Section,
    fine: float = 0.2,
    coarse: float = 0.6,
) -> Found:
    """Return the stresses between two cuts, loaded at the far one and balanced at the near one.

    Parameters
    ----------
    path : Path
    low, high : float, mm
        Arc lengths of the cuts; the stress within a diameter or two of them is not the wire's.
    diameter : float, mm
    loads : list of (force, moment)
        N and N mm, in space, about the centre of the far cut.
    section : Section
    fine, coarse : float
        Lengths of cells over the wire diameter.
    """
    a, p, count = diameter / 2, ALONG, section.count
    edges = cells(path, low, high, fine * diameter, coarse * diameter)
    gauss, weight, read, value, slope, read_value, read_slope = _along(p)
    middle, half = (edges[1:] + edges[:-1]) / 2, np.diff(edges) / 2
    n = len(middle)
    at = [(middle[:, None] + half[:, None] * x).ravel() for x in (gauss, read)]
    slack = 1e-9 * (high - low)
    s = np.concatenate([[low + slack, high - slack], *at])
    order = np.argsort(s, kind="stable")
    n1, n2 = np.empty((2, len(s), 3))
    n1[order], n2[order] = frames(path, s[order])
    t, place, bent = path.tangent(s), path.point(s), path.curvature(s) * a
    k1, k2 = (np.round(np.einsum("ij,ij->i", bent, v), 12) for v in (n1, n2))
    pull = np.zeros((2, count, len(loads)))
    force, moment = np.zeros((2, len(loads), n * p, 3))
    for i, (F, M) in enumerate(loads):
        M_low = M + np.cross(place[1] - place[0], F)
        for j, m, sign in ((0, M_low, -1), (1, M, 1)):
            axes = np.stack([t[j], n1[j], n2[j]])
            pull[j, :, i] = sign * _traction(section, axes @ F / a**2, axes @ m / a**3)
        force[i], moment[i] = F, M + np.cross(place[1] - path.point(at[1]), F)

    first = 2 + np.arange(n * (p + 1)).reshape(n, p + 1)
    u = _displacements(section, half / a, k1[first], k2[first], pull, (weight, value, slope))
    phi = 2 * np.pi * np.arange(AROUND) / AROUND
    rim = np.stack([np.cos(phi), np.sin(phi)], axis=1)
    basis, to_rim = polynomials(rim, section.degree), _on_rim(phi) @ section.stiffness
    stress = np.zeros((len(loads), n * p, AROUND, 4))

    @lru_cache(50)
    def recover(c1: float, c2: float) -> tuple[Array, Array]:
        still, along, _ = section.operators(basis, rim, c1, c2)
        return to_rim @ still, to_rim @ along

    for j in range(n * p):
        e, g = divmod(j, p)
        here = np.tensordot(read_value[g], u[e], 1)
        change = np.tensordot(read_slope[g], u[e], 1) * (a / half[e])
        still, along = recover(k1[2 + at[0].size + j], k2[2 + at[0].size + j])
        stress[:, j] = np.moveaxis(still @ here + along @ change, 2, 0)
    out = slice(2 + at[0].size, None)
    return Found(at[1], stress, t[out], n1[out], n2[out], force, moment)


def _traction(section: Section, force: Array, moment: Array) -> Array:
    """Return the load of a plain distribution over the section with a resultant along t, 1, 2."""
    x, y = section.x.T
    f, m = force / np.pi, moment / (np.pi / 4)
    return section.of_field(f[0] + m[1] * y - m[2] * x, f[1] - m[0] / 2 * y, f[2] + m[0] / 2 * x)


def _on_rim(phi: Array) -> Array:
    """Return the matrices from stresses to axial, hoop, shear, radial, ``(72, 4, 6)``."""
    c, s = np.cos(phi), np.sin(phi)
    out = np.zeros((len(phi), 4, 6))
    out[:, 0, 0] = 1
    out[:, 1, 1], out[:, 1, 2], out[:, 1, 5] = s * s, c * c, -2 * s * c
    out[:, 2, 3], out[:, 2, 4] = -s, c
    out[:, 3, 1], out[:, 3, 2], out[:, 3, 5] = c * c, s * s, 2 * s * c
    return out


def _displacements(
    section: Section, half: Array, k1: Array, k2: Array, pull: Array, rule: tuple[Array, ...]
) -> Array:
    """Return the coefficients ``(cells, p + 1, c, loads)`` by condensation and block Cholesky."""
    weight, value, slope = rule
    n, c, p = len(half), section.count, value.shape[1] - 1
    diagonal, beside = np.zeros((n + 1, c, c)), np.zeros((n, c, c))
    inner = []
    for e in range(n):
        whole = np.zeros((p + 1, c, p + 1, c))
        for g in range(p + 1):
            still, mixed, along = section.at(float(k1[e, g]), float(k2[e, g]))
            v, d, w = value[g], slope[g], weight[g]
            cross = np.einsum("i,j,ab->iajb", w * v, d, mixed)
            whole += np.einsum("i,j,ab->iajb", w * half[e] * v, v, still)
            whole += cross + cross.transpose(2, 3, 0, 1)
            whole += np.einsum("i,j,ab->iajb", w / half[e] * d, d, along)
        ends = [0, p]
        inside = whole[1:p, :, 1:p].reshape((p - 1) * c, -1)
        to_ends = whole[ends][:, :, 1:p].reshape(2 * c, -1)
        low = cholesky(inside, lower=True, check_finite=False)
        part = solve_triangular(low, to_ends.T, lower=True, check_finite=False)
        inner.append(solve_triangular(low, part, lower=True, trans=1, check_finite=False))
        rest = whole[ends][:, :, ends].reshape(2 * c, 2 * c) - part.T @ part
        diagonal[e] += rest[:c, :c]
        diagonal[e + 1] += rest[c:, c:]
        beside[e] = rest[c:, :c]
    x, y = section.x.T
    one, none = np.ones(len(x)), np.zeros(len(x))
    rigid = [(one, none, none), (none, one, none), (none, none, one)]
    rigid += [(y, none, none), (x, none, none), (none, -y, x)]
    held = np.stack([section.of_field(*r) for r in rigid], axis=1)
    diagonal[0] += held @ held.T  # the loads balance, so this carries nothing
    u = np.zeros((n + 1, c, pull.shape[2]))
    u[0] += pull[0]
    u[-1] += pull[1]
    lows, parts, block = [], [], diagonal[0]
    for e in range(n):
        lows.append(cholesky(block, lower=True, check_finite=False))
        parts.append(solve_triangular(lows[e], beside[e].T, lower=True, check_finite=False))
        block = diagonal[e + 1] - parts[e].T @ parts[e]
        u[e] = solve_triangular(lows[e], u[e], lower=True, check_finite=False)
        u[e + 1] -= parts[e].T @ u[e]
    u[n] = cho_solve((cholesky(block, lower=True), True), u[n])
    for e in range(n - 1, -1, -1):
        rest = u[e] - parts[e] @ u[e + 1]
        u[e] = solve_triangular(lows[e], rest, lower=True, trans=1, check_finite=False)
    out = np.zeros((n, p + 1, c, pull.shape[2]))
    for e in range(n):
        ends = np.concatenate([u[e], u[e + 1]])
        out[e, 0], out[e, p] = u[e], u[e + 1]
        out[e, 1:p] = (-inner[e] @ ends).reshape(p - 1, c, -1)
    return out

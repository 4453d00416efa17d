"""Two ways to solve a swept mesh: CalculiX and scikit-fem; used by ``finite_elements.py``."""

from __future__ import annotations

import dataclasses
import shutil
import subprocess
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path as File

import numpy as np
from finite_elements_mesh import GAUSS, LOCAL2, Array, Model, shape20

from springgeo.elements.swept import LOCAL20


@dataclass(frozen=True, eq=False)
class Solution:
    """Work of the load, N mm; greatest reaction, N; stresses ``(e, 8, 6)`` at ``place``."""

    work: float
    reaction: float
    place: Array
    stress: Array


def by_ccx(model: Model, F: float, E: float, nu: float, folder: File) -> Solution:
    """Write a CalculiX input file, run it and read displacements and Gauss-point stresses."""
    program = shutil.which("ccx")
    if program is None:
        raise SystemExit("skipped: CalculiX (ccx) is not installed; try --solver skfem")
    forces, used = model.forces(F), np.unique(model.elements)
    held = model.supports()
    text = ["*NODE, NSET=ALL"]
    text += [
        f"{i + 1},{x:.12g},{y:.12g},{z:.12g}"
        for i, (x, y, z) in zip(used, model.xyz[used], strict=True)
    ]
    text.append("*ELEMENT, TYPE=C3D20R, ELSET=ALL")
    for e, row in enumerate(model.elements + 1):
        text += [f"{e + 1}," + ",".join(map(str, row[:10])) + ",", ",".join(map(str, row[10:]))]
    text += ["*MATERIAL, NAME=M", "*ELASTIC", f"{E:.12g},{nu:.12g}"]
    text += ["*SOLID SECTION, ELSET=ALL, MATERIAL=M", "*NSET, NSET=LOADED"]
    text += [f"{i + 1}," for i in forces]
    text += ["*NSET, NSET=HELD", *(f"{i + 1}," for i in {i for i, _ in held}), "*BOUNDARY"]
    text += [f"{i + 1},{k + 1},{k + 1}" for i, k in held]
    text += ["*STEP", "*STATIC", "*CLOAD"]
    text += [f"{i + 1},{k + 1},{f[k]:.14g}" for i, f in forces.items() for k in range(3)]
    text += ["*NODE PRINT, NSET=LOADED", "U", "*NODE PRINT, NSET=HELD", "RF"]
    text += ["*EL PRINT, ELSET=ALL", "S", "*END STEP", ""]
    (folder / "spring.inp").write_text("\n".join(text))
    done = subprocess.run([program, "spring"], cwd=folder, capture_output=True, text=True)
    printed = folder / "spring.dat"
    if done.returncode or not printed.exists():
        raise SystemExit(f"ccx failed:\n{done.stdout[-800:]}{done.stderr[-400:]}")
    tables: dict[str, list[list[float]]] = {}
    for line in printed.read_text().splitlines():
        words = line.split()
        if words and words[0].isalpha():
            rows = tables.setdefault(words[0], [])
        elif words:
            rows.append([float(w) for w in words])
    work = sum(forces[int(i) - 1] @ u for i, *u in tables["displacements"]) / 2
    # what ccx prints holds the applied force too, if a held node is also loaded
    rest = [np.array(f) - forces.get(int(i) - 1, 0.0) for i, *f in tables["forces"]]
    reaction = float(np.abs(rest).max())
    stress = np.array(tables["stresses"])[:, 2:].reshape(-1, 8, 6)
    place = np.einsum("gn,enx->egx", shape20(GAUSS), model.xyz[model.elements])
    return Solution(float(work), reaction, place, stress)


def serendipity(model: Model) -> Array:
    """Return the nodes with those of no 20-node element where its faces and middle truly are."""
    extra = np.array([[8, 0], [8, 2], [4, 1], [5, 1], [6, 1], [7, 1], [8, 1]])
    local = np.column_stack([np.vstack([LOCAL2, [[0, 0]]])[extra[:, 0]], extra[:, 1] - 1])
    first = 2 * np.arange(len(model.edges) - 1)[:, None, None] + extra[:, 1]
    index = first * len(model.flat) + model.quads[:, extra[:, 0]]
    out = model.xyz.copy()
    out[index.reshape(-1, 7)] = np.einsum("gn,enx->egx", shape20(local), out[model.elements])
    return out.reshape(model.nodes.shape)


def by_skfem(model: Model, F: float, E: float, nu: float, _folder: File) -> Solution:
    """Solve with scikit-fem's 20-node elements, integrated at 2 by 2 by 2 points, and scipy."""
    try:
        import skfem
    except ImportError:
        raise SystemExit("skipped: scikit-fem is not installed (pip install scikit-fem)") from None
    from scipy.linalg import solveh_banded
    from scipy.sparse.csgraph import reverse_cuthill_mckee
    from scipy.spatial import cKDTree
    from skfem.models.elasticity import lame_parameters, linear_elasticity
    from skfem.refdom import RefHex

    n = len(model.flat)
    corner = np.array([np.argmin(np.abs(LOCAL20[:8] - c).sum(axis=1)) for c in 2 * RefHex.p.T - 1])
    ids, cells = np.unique(model.elements[:, corner], return_inverse=True)
    # straight-sided twin in (section, layer) space: tells which node of the 27 is which
    twin = np.column_stack([model.flat[ids % n], ids // n / 2.0])
    mesh = skfem.MeshHex2.from_mesh(skfem.MeshHex(twin.T, cells.reshape(-1, 8).T))
    nine = model.flat[model.quads[:, :4]]
    middles = [nine, (nine + np.roll(nine, -1, axis=1)) / 2, nine.mean(axis=1, keepdims=True)]
    logical = np.zeros_like(model.flat)
    logical[model.quads] = np.concatenate(middles, axis=1)
    off, p = cKDTree(logical).query(mesh.doflocs[:2].T)
    assert off.max() < 1e-9
    station = np.rint(2 * mesh.doflocs[2]).astype(int)
    mesh = dataclasses.replace(mesh, doflocs=serendipity(model)[station, p].T.copy())
    basis = skfem.Basis(
        mesh,
        skfem.ElementVector(skfem.ElementHexS2()),
        quadrature=((GAUSS.T + 1) / 2, np.full(8, 0.125)),
    )
    stiff = linear_elasticity(*lame_parameters(E, nu)).assemble(basis).tocsr()
    far, node = cKDTree(model.xyz).query(basis.doflocs.T)
    assert far.max() < 1e-6 * model.diameter
    axis = np.zeros(basis.N, dtype=int)
    for k in range(3):
        axis[np.concatenate([basis.nodal_dofs[k], basis.edge_dofs[k]])] = k
    forces, held = model.forces(F), set(model.supports())
    load = np.array([forces[i][k] if i in forces else 0.0 for i, k in zip(node, axis, strict=True)])
    free = np.array([(i, k) not in held for i, k in zip(node, axis, strict=True)])
    kept = np.flatnonzero(free)
    kept = kept[reverse_cuthill_mckee(stiff[kept][:, kept], symmetric_mode=True)]
    low = stiff[kept][:, kept].tocoo()
    pick = low.row >= low.col
    band = np.zeros((int((low.row - low.col).max()) + 1, len(kept)))
    band[low.row[pick] - low.col[pick], low.col[pick]] = low.data[pick]
    u = np.zeros(basis.N)
    u[kept] = solveh_banded(band, load[kept], lower=True, overwrite_ab=True, check_finite=False)
    grad = basis.interpolate(u).grad
    strain = (grad + np.swapaxes(grad, 0, 1)) / 2
    lam, mu = lame_parameters(E, nu)
    full = 2 * mu * strain + lam * np.eye(3)[:, :, None, None] * np.einsum("iieg->eg", strain)
    six = full[[0, 1, 2, 0, 0, 1], [0, 1, 2, 1, 2, 2]]
    reaction = float(np.abs(stiff @ u - load)[~free].max())
    place = np.moveaxis(np.asarray(basis.global_coordinates()), 0, -1)
    return Solution(float(load @ u) / 2, reaction, place, np.moveaxis(six, 0, -1))


SOLVERS: dict[str, Callable[..., Solution]] = {"ccx": by_ccx, "skfem": by_skfem}

"""Rate and stresses of a spring by finite elements, beside springgeo's two answers.

Run ``python gallery/finite_elements.py`` (half a minute), or with a specification or
``--preset gate-latch``. Needs CalculiX (``ccx``) or scikit-fem (``--solver skfem``); neither
belongs to springgeo. Quadratic hexahedra are swept along the centreline. Load: a pair of forces
along the line between the contacts, spread over the wire's section at each apex; no contact of
coils, no initial tension. Surface stress: a polynomial over each section through the Gauss-point
stresses, as extrapolation to nodes overshoots.
"""

from __future__ import annotations

import argparse
import tempfile
import time
from pathlib import Path as File

import numpy as np
from finite_elements_mesh import Model
from finite_elements_solvers import SOLVERS, Solution

from springgeo import Spring
from springgeo.elements.rim import stress_at_rim
from springgeo.specification.load import read_preset, read_spec, spec_of
from springgeo.statics.regions import REGIONS, region_of
from springgeo.summary.handbook import Handbook
from springgeo.summary.wire import AlongWire, contacts_of

DEFAULT = {
    "name": "small spring for finite elements",
    "wire": {
        "material": "astm-a228",
        "diameter": 2.0,
        "elastic_modulus": 206000.0,
        "shear_modulus": 206000.0 / 2.6,
    },
    "body": {"index": 5.0, "coils": 3.0, "gap": 0.1},
    "ends": {
        "first": {"style": "machine-half-loop", "bend_radius": 2.5},
        "second": {"style": "machine-half-loop", "bend_radius": 2.5},
    },
    "service": {"loads": [10.0]},
}
RATE_BOUND = 0.5  # per cent between finite elements and the answer along the wire


def peaks(model: Model, found: Solution) -> dict[str, dict[str, float]]:
    """Return the greatest surface stress by region: ``axial`` and ``shear`` (Tresca/2), MPa."""
    e, d, path = model.edges, model.diameter, model.path
    q, middle = len(model.quads), (e[1:] + e[:-1]) / 2
    reach = (e[1:] - e[:-1]) / (2 * np.sqrt(3))
    place = found.place.reshape(len(middle), q * 8, 3)
    ahead = np.einsum("lgx,lx->lg", place - path.point(middle)[:, None], path.tangent(middle))
    order = np.argsort(ahead, axis=1, kind="stable").reshape(-1, q * 4)
    row = np.repeat(np.arange(len(middle)), 2)[:, None]
    place = place[row, order]
    stress = found.stress.reshape(len(middle), q * 8, 6)[row, order]
    s = np.column_stack([middle - reach, middle + reach]).ravel()
    t, tensor = path.tangent(s), stress_at_rim(path, d, s, place, stress)
    axial = np.abs(np.einsum("lx,lgxy,ly->lg", t, tensor, t)).max(axis=1)
    principal = np.linalg.eigvalsh(tensor)
    shear = ((principal[..., 2] - principal[..., 0]) / 2).max(axis=1)
    region = region_of(path, s, path.find(s), d)
    region[(s < model.contacts.s_a + d) | (s > model.contacts.s_b - d)] = -1  # at the load
    return {
        name: {"axial": float(axial[here].max()), "shear": float(shear[here].max())}
        for i, name in enumerate(REGIONS)
        if (here := region == i).any()
    }


def compare(spring: Spring, n: int, solver: str, folder: File) -> list[tuple[str, float, ...]]:
    """Return rows (quantity, handbook, along the wire, finite elements); prints the mesh."""
    geometry = spring.model.geometry
    if None in geometry.contact_s:
        raise SystemExit("both ends need a hook: a fitted end has no wire to load")
    book = Handbook(spring.model)
    m, F = book.material, max([p.load for p in book.points], default=10.0)
    wire = AlongWire(book).unit
    model = Model.of(geometry.path, geometry.wire_diameter, contacts_of(geometry), n)
    print(f"{len(model.elements)} elements, {len(np.unique(model.elements))} nodes, {solver}")
    found = SOLVERS[solver](
        model, F, m.elastic_modulus, m.elastic_modulus / (2 * m.shear_modulus) - 1, folder
    )
    assert found.reaction < 1e-4 * F, f"the load is not in balance: {found.reaction:.2g} N"
    fe, w = peaks(model, found), {k: p.scaled(F) for k, p in wire.peaks.items()}
    point = book.point(F)
    hook = [k for k in fe if k != "body"]  # a bend may carry more than the loop
    most = max(w[k].axial.value for k in hook), max(fe[k]["axial"] for k in hook)
    return [
        ("rate, N/mm", book.rate, wire.rate, F * F / (2 * found.work)),
        ("body, max shear, MPa", book.body_shear(F), w["body"].shear.value, fe["body"]["shear"]),
        ("A, max axial, MPa", point.hook_bending, w["A"].axial.value, fe["A"]["axial"]),
        ("hooks, max axial, MPa", point.hook_bending, *most),
        ("B, max shear, MPa", point.hook_torsion, w["B"].shear.value, fe["B"]["shear"]),
    ]


def main() -> None:
    """Solve, print the table and check the rate."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("spec", nargs="?", type=File, help="YAML file; a small spring if left out")
    parser.add_argument("--preset", help="an embedded example instead of a file")
    parser.add_argument(
        "--elements", type=int, default=3, help="along a side of the section's core"
    )
    parser.add_argument("--solver", choices=SOLVERS, default="ccx")
    parser.add_argument("--keep", type=File, help="folder for the solver's files")
    o = parser.parse_args()
    if o.elements < 3:
        parser.error("--elements must be 3 or more: the stress is a polynomial over the section")
    spec = read_preset(o.preset) if o.preset else read_spec(o.spec) if o.spec else spec_of(DEFAULT)
    start = time.perf_counter()
    with tempfile.TemporaryDirectory() as temporary:
        folder = o.keep or File(temporary)
        folder.mkdir(parents=True, exist_ok=True)
        spring = Spring(spec)
        print(spring)
        rows = compare(spring, o.elements, o.solver, folder)
    print(f"{'':22}{'handbook':>18}{'along the wire':>18}{'elements':>10}")
    for name, book, wire, fe in rows:
        shown = (f"{x:9.3f} {100 * (x / fe - 1):+6.2f} %" for x in (book, wire))
        print(f"{name:22}" + "".join(f"{x:>18}" for x in shown) + f"{fe:10.3f}")
    print(f"{time.perf_counter() - start:.0f} s")
    _, _, wire, fe = rows[0]
    assert abs(wire / fe - 1) < RATE_BOUND / 100, f"rate {wire:.5g} along the wire, {fe:.5g} here"


if __name__ == "__main__":
    main()

"""Files of loaded springs beside their centreline, integrated anew.

Volume, middle and second moments of the wire follow from its centreline, exactly: across the wire
a volume element is (1 - k u), u toward the middle of curvature. The box is that of dense discs.
What a fitting holds must lie at the wire that holds it as it does without load, and nowhere nearer
to any other.
"""

from __future__ import annotations

import itertools
import math
import xml.etree.ElementTree as ET
import zipfile
from pathlib import Path

import numpy as np
import numpy.typing as npt
import trimesh
from cadquery import importers
from OCP.BRepGProp import BRepGProp
from OCP.GProp import GProp_GProps

from springgeo import Spring, State
from springgeo.curve import Path as Centreline
from springgeo.fittings import Part
from springgeo.fittings.turned import Turned
from tests.stability.wild import Random

from .compared import Compared
from .drawn import drawn

Array = npt.NDArray[np.float64]
# stations of a piece, and of the whole where distances are looked at
_GAUSS, _DENSE = 24, 6000


def examine(rng: Random, told: Compared, folder: Path) -> None:
    """Load one spring, write it, and read its files."""
    data = drawn(rng, coils=8, lengths=False)
    spring = Spring.from_dict(data)
    load = float(rng.choice(spring.spec.service.loads))
    state = spring.at(load=load)
    files = {p.suffix: p for p in state.export(folder, formats=["step", "stl", "3mf", "glb"])}
    r = state.geometry.wire_diameter / 2
    volume, middle, second = moments(state.centreline, r)
    told.number("files: volume of the solid", state.solid().Volume(), volume, 1e-6)
    _step(told, files[".step"], state, (volume, middle, second))
    for suffix, scale in ((".stl", 1.0), (".3mf", 1.0), (".glb", 1e3)):
        _mesh(told, files[suffix], suffix, scale, state, (volume, middle, second))
    wire = state.mesh()
    told.number("mesh: volume", wire.trimesh().volume, volume, 0.03)
    _box(told, state)
    _contacts(told, spring, state)
    _fittings(told, spring, state)


def moments(path: Centreline, r: float) -> tuple[float, Array, Array]:
    """Return volume, mm3, middle, mm, and second moments of volume about it ``(3, 3)``, mm5."""
    x, w = np.polynomial.legendre.leggauss(_GAUSS)
    p, c, t, weight = [], [], [], []
    for start, piece in zip(path.starts, path.pieces, strict=False):
        n = max(1, math.ceil(piece.segment.length / (4 * r)))
        edges = np.linspace(0.0, piece.segment.length, n + 1)
        for a, b in itertools.pairwise(edges):
            s = start + (a + b) / 2 + (b - a) / 2 * x
            inner = np.clip(s, start + 1e-12, start + piece.segment.length - 1e-12)
            p.append(path.point(inner))
            c.append(path.curvature(inner))
            t.append(path.tangent(inner))
            weight.append((b - a) / 2 * w)
    points, bend, along, ds = (np.concatenate(x) for x in (p, c, t, weight))
    A, inertia = math.pi * r**2, math.pi * r**4 / 4
    volume = A * float(ds.sum())
    middle = (A * points - inertia * bend).T @ ds / volume
    off = points - middle
    cross = np.einsum("ni,nj,n->ij", bend, off, ds)
    second = A * np.einsum("ni,nj,n->ij", off, off, ds) - inertia * (cross + cross.T)
    second = second + inertia * (np.eye(3) * ds.sum() - np.einsum("ni,nj,n->ij", along, along, ds))
    return volume, middle, second


def _inertia(second: Array) -> Array:
    """Return the principal moments of inertia per density, rising, of second moments."""
    return np.sort(np.linalg.eigvalsh(np.trace(second) * np.eye(3) - second))


def _step(told: Compared, path: Path, state: State, own: tuple[float, Array, Array]) -> None:
    volume, middle, second = own
    solids = importers.importStep(str(path)).solids().vals()
    told.same("STEP: solids", len(solids), 1 + len(state.geometry.parts))
    wire = min(solids, key=lambda x: abs(x.Volume() - volume))
    facts = GProp_GProps()
    BRepGProp.VolumeProperties_s(wire.wrapped, facts, 1e-7)
    told.number("STEP: volume", facts.Mass(), volume, 1e-5)
    c = facts.CentreOfMass()
    d = state.geometry.wire_diameter
    told.array("STEP: middle", [c.X(), c.Y(), c.Z()], middle, 1e-4, of=d)
    principal = np.sort(facts.PrincipalProperties().Moments())
    told.array("STEP: inertia", principal, _inertia(second), 1e-4, of=float(_inertia(second)[0]))
    for part in state.geometry.parts:
        near = min(abs(x.Volume() / part.volume - 1) for x in solids)
        told.number("STEP: volume of a part", near, 0.0, 1e-4, of=1.0)


def _mesh(
    told: Compared,
    path: Path,
    suffix: str,
    scale: float,
    state: State,
    own: tuple[float, Array, Array],
) -> None:
    """The wire of a file of facets; GLB is in metres and stands upright."""
    volume, middle, second = own
    bodies = _threemf(path) if suffix == ".3mf" else list(trimesh.load_scene(path).dump())
    pieces = [part for body in bodies for part in body.split(only_watertight=False)]
    wire = min(pieces, key=lambda x: abs(x.volume * scale**3 - volume))
    told.same(f"{suffix}: watertight", bool(wire.is_watertight), True)
    told.number(f"{suffix}: volume", wire.volume * scale**3, volume, 0.03)
    d = state.geometry.wire_diameter
    at = wire.center_mass * scale
    if suffix == ".glb":
        at = np.array([np.linalg.norm(at - 0)])
        told.number(f"{suffix}: middle", at[0], float(np.linalg.norm(middle)), 0.02, of=d)
    else:
        told.array(f"{suffix}: middle", at, middle, 0.02, of=d)
    share = wire.principal_inertia_components * scale**5 / (wire.volume * scale**3)
    told.array(
        f"{suffix}: inertia over volume", np.sort(share), _inertia(second) / volume, 5e-3,
        of=float(_inertia(second)[0] / volume),
    )  # fmt: skip
    extents = np.sort(wire.extents * scale)
    mine = wire_box(state)
    told.array(f"{suffix}: extents", extents, np.sort(mine[1] - mine[0]), 0.05, of=d)


def _threemf(path: Path) -> list[trimesh.Trimesh]:
    """Return the objects of a 3MF file."""
    with zipfile.ZipFile(path) as package:
        root = ET.fromstring(package.read("3D/3dmodel.model"))
    assert root.get("unit", "millimeter") == "millimeter"
    name = root.tag.partition("}")[0] + "}"
    found = []
    for mesh in root.iter(f"{name}mesh"):
        v = [[float(x.get(k, "nan")) for k in "xyz"] for x in mesh.iter(f"{name}vertex")]
        f = [
            [int(x.get(k, "-1")) for k in ("v1", "v2", "v3")] for x in mesh.iter(f"{name}triangle")
        ]
        found.append(trimesh.Trimesh(v, f))
    return found


def wire_box(state: State) -> Array:
    """Return the box of dense discs along the wire ``(2, 3)``, mm."""
    s = np.linspace(0.0, state.centreline.length, 4 * _DENSE)
    p, t = state.centreline.point(s), state.centreline.tangent(s)
    out = state.geometry.wire_diameter / 2 * np.sqrt(np.maximum(1 - t**2, 0.0))
    return np.array([(p - out).min(axis=0), (p + out).max(axis=0)])


def _box(told: Compared, state: State) -> None:
    boxes = [wire_box(state), *(_part_box(p) for p in state.geometry.parts)]
    own = np.array([np.min([b[0] for b in boxes], axis=0), np.max([b[1] for b in boxes], axis=0)])
    told.array("state: box", state.box, own, 2e-3, of=state.geometry.wire_diameter)


def _part_box(part: Part) -> Array:
    """Return the box of points on a part's surface."""
    points = part.placed(_surface(part))
    return np.array([points.min(axis=0), points.max(axis=0)])


def _surface(part: Part) -> Array:
    from springgeo.mesh.fitting import part_mesh

    mesh = part_mesh(part, 1e-4 * float(np.linalg.norm(np.ptp(part.box, axis=0)))).trimesh()
    return (mesh.vertices - part.origin) @ part.axes


def _contacts(told: Compared, spring: Spring, state: State) -> None:
    contacts = state.geometry.contacts
    d = state.geometry.wire_diameter
    # from the inside of one hook to that of the other, along the pull from wire to wire
    for at in (spring.free, state):
        g, hooks = at.geometry, [s for s in at.geometry.contact_s if s is not None]
        low, high = (
            c if s is None else at.centreline.point(np.array([s]))[0]
            for s, c in zip(g.contact_s, g.contacts, strict=True)
        )
        apart = float(np.linalg.norm(high - low)) - d / 2 * len(hooks)
        told.number("state: between the contacts", apart, at.length, 1e-6, of=d)
    for s, point in zip(state.geometry.contact_s, contacts, strict=True):
        if s is None:
            continue
        off = float(np.linalg.norm(state.centreline.point(np.array([s]))[0] - point))
        told.number("state: contact on the wire's surface", off, d / 2, 1e-6)


def _fittings(told: Compared, spring: Spring, state: State) -> None:
    d = state.geometry.wire_diameter
    for free, loaded in zip(spring.free.geometry.parts, state.geometry.parts, strict=True):
        told.number("fitting: volume", loaded.volume, free.volume, 1e-9)
        det = float(np.linalg.det(loaded.axes))
        told.number("fitting: not deformed", det, float(np.linalg.det(free.axes)), 1e-9)
        before = _gap(spring.centreline, free)
        after = _gap(state.centreline, loaded)
        told.number("fitting: nearest wire", (after - before) / d, 0.0, 0.01, of=1.0)
        told.same("fitting: clear of the wire", after > d / 2 * 0.98, True)


def _gap(path: Centreline, part: Part) -> float:
    """Return the least distance, mm, of a part's surface from a centreline."""
    from scipy.spatial import cKDTree

    points = path.point(np.linspace(0.0, path.length, 8 * _DENSE))
    local = (points - part.origin) @ part.axes
    if isinstance(part.form, Turned):
        profile = np.array([(0.0, part.form.profile[0][1]), *part.form.profile])
        if part.form.rod is None:
            profile = np.vstack([profile, (0.0, profile[-1][1])])
        fine = np.concatenate([np.linspace(a, b, 2000) for a, b in itertools.pairwise(profile)])
        round_ = np.column_stack([np.hypot(local[:, 0], local[:, 1]), local[:, 2]])
        return float(cKDTree(fine).query(round_)[0].min())
    surface = trimesh.Trimesh(*_faces(part), process=False).sample(200_000, seed=1)
    return float(cKDTree(surface).query(points)[0].min())


def _faces(part: Part) -> tuple[Array, npt.NDArray[np.intp]]:
    from springgeo.mesh.fitting import part_mesh

    mesh = part_mesh(part, 1e-3 * float(np.linalg.norm(np.ptp(part.box, axis=0)))).trimesh()
    return (mesh.vertices, mesh.faces)

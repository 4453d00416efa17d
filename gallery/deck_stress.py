"""A spring's deck solved by CalculiX, drawn as it is pulled and painted by its stress.

Run ``python gallery/deck_stress.py`` (a minute); needs CalculiX (``ccx``) and VTK, which comes with
cadquery. The deck is run as it is written; the picture shows its second step. Asserts that its rate
is that along the wire within 0.3 %, and its extension that of the load curve.
"""

from __future__ import annotations

import argparse
import shutil
import subprocess
import tempfile
from pathlib import Path as File
from typing import Any

import numpy as np
import numpy.typing as npt
from presets_render import AXIS, MISSING, Image, photographed

from springgeo import Elements, Spring, colours
from springgeo.elements import MeshedWire
from springgeo.elements.quality import GAUSS2, shape

if not MISSING:
    from vtkmodules import (
        vtkCommonCore,
        vtkCommonDataModel,
        vtkFiltersCore,
        vtkRenderingAnnotation,
        vtkRenderingCore,
    )
    from vtkmodules.util.numpy_support import numpy_to_vtk, numpy_to_vtkIdTypeArray

Array = npt.NDArray[np.float64]
LOAD, SIZE, RATE, LENGTH = 90.0, 0.46, 0.3, 0.5  # N, mm, per cent
WIDTH, HEIGHT = 1500, 520
# flat pieces along the side of a face
FINE = 4
TOWARD = np.array([0.5, 1.0, 0.4])


def spring() -> Spring:
    """Return a short open spring with two different hooks."""
    return Spring.from_dict(
        {
            "name": "shutter stay spring",
            "wire": {"material": "en-10270-1-sh", "diameter": 2.0},
            "body": {"mean_diameter": 14.0, "coils": 4.25, "gap": 0.4},
            "ends": {
                "first": {"style": "full-twisted-loop"},
                "second": {"style": "machine-half-loop", "opening": 5.0},
            },
            "service": {"loads": [LOAD]},
        }
    )


def solved(deck: File) -> tuple[list[float], Array, Array]:
    """Run a deck; return pull at the end of its steps, displacements and stresses of the last."""
    program = shutil.which("ccx")
    if program is None:
        raise SystemExit("skipped: CalculiX (ccx) is not installed")
    subprocess.run([program, deck.stem], cwd=deck.parent, capture_output=True, check=True)
    pulled: list[float] = []
    stress: list[list[float]] = []
    kind = ""
    for line in deck.with_suffix(".dat").read_text().splitlines():
        words = line.split()
        if words and words[0].isalpha():
            kind, stress = words[0], [] if words[0] == "stresses" else stress
        elif words and kind == "displacements":
            pulled.append(float(words[3]))
        elif words:
            stress.append([float(w) for w in words[2:]])
    moved: dict[int, list[float]] = {}
    inside = False
    for line in deck.with_suffix(".frd").read_text().splitlines():
        if line.startswith(" -4"):
            inside = line.split()[1] == "DISP"
        elif inside and line.startswith(" -1"):
            moved[int(line[3:13])] = [float(line[13 + 12 * k : 25 + 12 * k]) for k in range(3)]
    return pulled, np.array([moved[i] for i in sorted(moved)]), np.array(stress).reshape(-1, 8, 6)


def von_mises_at_nodes(wire: MeshedWire, stress: Array) -> Array:
    """Return von Mises stress at the nodes, MPa: integration points extrapolated, then averaged."""
    out, _ = shape(np.sqrt(3) * GAUSS2, 8)
    # the order of corners is not that of integration points
    order = [0, 1, 3, 2, 4, 5, 7, 6]
    corner = np.einsum("cg,egs->ecs", np.linalg.inv(shape(GAUSS2[order], 8)[0]), stress[:, order])
    assert out.shape == (8, 8)
    total, count = np.zeros((len(wire.nodes), 6)), np.zeros(len(wire.nodes))
    np.add.at(total, wire.elements[:, :8], corner)
    np.add.at(count, wire.elements[:, :8], 1)
    used = count > 0
    total[used] /= count[used, None]
    x, y, z, xy, xz, yz = total.T
    found: Array = np.sqrt(
        ((x - y) ** 2 + (y - z) ** 2 + (z - x) ** 2) / 2 + 3 * (xy**2 + xz**2 + yz**2)
    )
    for middle, a, b in MIDDLES:
        found[wire.elements[:, middle]] = (
            found[wire.elements[:, a]] + found[wire.elements[:, b]]
        ) / 2
    return found


# middles of the edges of a hexahedron, and the corners they lie between
MIDDLES = [(8 + i, i, (i + 1) % 4) for i in range(4)]
MIDDLES += [(12 + i, 4 + i, 4 + (i + 1) % 4) for i in range(4)]
MIDDLES += [(16 + i, i, 4 + i) for i in range(4)]


def surface(nodes: Array, wire: MeshedWire, value: Array) -> Any:
    """Return the surface as VTK's polygons: each eight-node face in small flat ones."""
    assert wire.swept is not None
    u = np.linspace(-1.0, 1.0, FINE + 1)
    local = np.array([[x, y, -1.0] for x in u for y in u])
    # a face of the hexahedron's own: its first four corners, and the middles between them
    weight = shape(local, 20)[0][:, [0, 1, 2, 3, 8, 9, 10, 11]]
    faces = wire.swept.surface_nodes
    place = np.einsum("gn,fnx->fgx", weight, nodes[faces]).reshape(-1, 3)
    painted = np.einsum("gn,fn->fg", weight, value[faces]).ravel()
    first = np.array([i * (FINE + 1) + j for i in range(FINE) for j in range(FINE)])
    quad = first[:, None] + [0, FINE + 1, FINE + 2, 1]
    each = np.arange(len(faces))[:, None, None] * len(local) + quad
    data, points = vtkCommonDataModel.vtkPolyData(), vtkCommonCore.vtkPoints()
    points.SetData(numpy_to_vtk(np.ascontiguousarray(place), deep=True))
    cells = vtkCommonDataModel.vtkCellArray()
    cells.SetData(4, numpy_to_vtkIdTypeArray(each.astype(np.int64).ravel(), deep=True))
    data.SetPoints(points)
    data.SetPolys(cells)
    data.GetPointData().SetScalars(numpy_to_vtk(np.ascontiguousarray(painted), deep=True))
    one = vtkFiltersCore.vtkCleanPolyData()
    one.SetInputData(data)
    one.SetTolerance(1e-7)
    normals = vtkFiltersCore.vtkPolyDataNormals()
    normals.SetInputConnection(one.GetOutputPort())
    normals.SetFeatureAngle(50.0)
    return normals


def edges(nodes: Array, wire: MeshedWire) -> Any:
    """Return the elements' edges on the surface as lines."""
    assert wire.swept is not None
    corners = wire.swept.surface_nodes
    lines = {
        (min(a, b), max(a, b), m)
        for f in corners.tolist()
        for a, b, m in ((f[i], f[(i + 1) % 4], f[4 + i]) for i in range(4))
    }
    data, points = vtkCommonDataModel.vtkPolyData(), vtkCommonCore.vtkPoints()
    points.SetData(numpy_to_vtk(np.ascontiguousarray(nodes), deep=True))
    cells = vtkCommonDataModel.vtkCellArray()
    for a, b, m in sorted(lines):
        cells.InsertNextCell(3, [a, m, b])
    data.SetPoints(points)
    data.SetLines(cells)
    return data


def render(nodes: Array, wire: MeshedWire, value: Array) -> Image:
    """Return a picture ``(height, width, 3)`` of ``value``, stress as a share of its allowable."""
    toward = TOWARD / np.linalg.norm(TOWARD)
    right = AXIS - (AXIS @ toward) * toward
    right /= np.linalg.norm(right)
    axes = np.stack([right, np.cross(toward, right), toward])
    seen = nodes @ axes.T
    low, high = seen.min(axis=0), seen.max(axis=0)
    scale = 1.1 * max((high[0] - low[0]) / WIDTH, (high[1] - low[1]) / (HEIGHT - 110))
    focus = ((low + high) / 2 + [0.0, -45 * scale, 0.0]) @ axes
    table = vtkCommonCore.vtkLookupTable()
    steps = colours.ramp()
    table.SetNumberOfTableValues(len(steps))
    for i, colour in enumerate(steps):
        table.SetTableValue(i, *colours.rgb(colour), 1.0)
    table.SetRange(0.0, colours.TOP)
    scene = vtkRenderingCore.vtkRenderer()
    scene.SetBackground(1.0, 1.0, 1.0)
    mapper, actor = vtkRenderingCore.vtkPolyDataMapper(), vtkRenderingCore.vtkActor()
    skin = surface(nodes, wire, value)
    mapper.SetInputConnection(skin.GetOutputPort())
    mapper.SetLookupTable(table)
    mapper.SetScalarRange(0.0, colours.TOP)
    actor.SetMapper(mapper)
    scene.AddActor(actor)
    drawn, lines = vtkRenderingCore.vtkPolyDataMapper(), vtkRenderingCore.vtkActor()
    # a little nearer to the eye than the surface that they lie on
    drawn.SetInputData(edges(nodes + 0.02 * wire.diameter * toward, wire))
    lines.SetMapper(drawn)
    lines.GetProperty().SetColor(0.1, 0.1, 0.12)
    lines.GetProperty().SetOpacity(0.35)
    scene.AddActor(lines)
    lights = vtkRenderingCore.vtkLightKit()
    lights.SetKeyLightAngle(45.0, 25.0)
    lights.SetKeyToFillRatio(2.0)
    lights.AddLightsToRenderer(scene)
    bar = vtkRenderingAnnotation.vtkScalarBarActor()
    bar.SetLookupTable(table)
    bar.SetOrientationToHorizontal()
    bar.SetNumberOfLabels(6)
    bar.SetLabelFormat("{:.2f}")
    bar.SetPosition(0.3, 0.01)
    bar.SetWidth(0.4)
    bar.SetHeight(0.13)
    bar.SetBarRatio(0.36)
    bar.UnconstrainedFontSizeOn()
    title = vtkRenderingCore.vtkTextActor()
    title.SetInput("von Mises stress over that of the shear the body may bear")
    title.GetTextProperty().SetJustificationToCentered()
    title.SetPosition(WIDTH // 2, 82)
    for text in (title.GetTextProperty(), bar.GetLabelTextProperty()):
        text.SetColor(0.1, 0.1, 0.1)
        text.SetFontSize(17)
        text.ItalicOff()
        text.BoldOff()
        text.ShadowOff()
    scene.AddViewProp(bar)
    scene.AddViewProp(title)
    deep = (high - low).max()
    return photographed(scene, (WIDTH, HEIGHT), focus, axes, deep, scale)


def main() -> None:
    """Write the deck, run it, check it and draw it."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    here = File(__file__).with_suffix(".png")
    parser.add_argument("--out", type=File, default=here)
    parser.add_argument("--keep", type=File, help="folder for deck and answer")
    o = parser.parse_args()
    if MISSING:
        raise SystemExit(f"skipped: {MISSING}")
    import matplotlib.image

    s, choice = spring(), Elements("hex20", SIZE)
    with tempfile.TemporaryDirectory() as temporary:
        folder = o.keep or File(temporary)
        deck = next(
            f for f in s.export(folder, formats=["inp"], elements=choice) if f.suffix == ".inp"
        )
        (small, pulled), moved, stress = solved(deck)
    wire = MeshedWire.of(s.model.geometry, choice)
    rate = 100 * (LOAD / 100 / small / s.along_the_wire.rate - 1)
    longer = 100 * (pulled / (s.load_curve.length(LOAD) - s.free_length) - 1)
    print(f"rate {rate:+.2f} %, extension {longer:+.2f} %")
    assert abs(rate) < RATE, f"the rate is {rate:+.2f} % off"
    assert abs(longer) < LENGTH, f"the extension is {longer:+.2f} % off"
    value = von_mises_at_nodes(wire, stress)
    nodes = wire.nodes + moved[: len(wire.nodes)]
    allowable = np.sqrt(3) * s.summary().points[-1].allowable.body_shear
    picture = render(nodes, wire, value / allowable)
    assert (picture < 250).any(axis=2).mean() > 0.05, "the picture is empty"
    matplotlib.image.imsave(o.out, picture)
    print(f"wrote {o.out}")


if __name__ == "__main__":
    main()

"""A picture of every embedded spring, rendered from springgeo's own mesh.

Run ``python gallery/presets_render.py``; needs VTK, which comes with cadquery, and draws without
a screen. Each spring fills its tile; the bar under it gives the scale. Asserts the volume of
each mesh against the wire's, and that no tile is empty.
"""

from __future__ import annotations

import argparse
import math
from pathlib import Path as File
from typing import Any

import numpy as np
import numpy.typing as npt

from springgeo import Spring, colours
from springgeo.mesh import Mesh, part_mesh
from springgeo.specification.load import presets

try:
    import vtkmodules.vtkRenderingFreeType
    import vtkmodules.vtkRenderingOpenGL2  # noqa: F401
    from vtkmodules import vtkCommonCore, vtkCommonDataModel, vtkFiltersCore, vtkRenderingCore
    from vtkmodules.util.numpy_support import numpy_to_vtk, numpy_to_vtkIdTypeArray, vtk_to_numpy

    # without a screen VTK warns, then finds another way to draw
    vtkCommonCore.vtkLogger.SetStderrVerbosity(vtkCommonCore.vtkLogger.VERBOSITY_ERROR)
    MISSING = ""
except ImportError as found:
    MISSING = f"VTK cannot be loaded: {found}"

Image = npt.NDArray[np.uint8]
Colour = tuple[float, float, float]
CHORD = 0.004  # greatest error of a mesh over the wire diameter
COLUMNS = 2
# camera: the axis runs to the right, end A at the left; a little from above and from end B
TOWARD, AXIS = np.array([0.45, 1.0, 0.3]), np.array([0.0, 0.0, 1.0])
METAL, FITTING = colours.rgb(colours.WIRE.ink.light), colours.rgb(colours.FITTING.light)


def checked_meshes(spring: Spring) -> list[tuple[Mesh, Colour]]:
    """Return wire and fitted parts; asserts their volumes against the closed forms."""
    g = spring.model.geometry
    chord, wire = CHORD * g.wire_diameter, math.pi * g.wire_diameter**2 / 4 * g.path.length
    found = [(spring.mesh(chord), wire, METAL)]
    found += [(part_mesh(part, chord), part.volume, FITTING) for part in g.parts]
    for mesh, volume, _ in found:
        off = abs(1 - mesh.volume / volume)
        assert off <= 4 * CHORD, f"{spring.spec.name}: mesh volume is {off:.3%} off"
    return [(mesh, colour) for mesh, _, colour in found]


def actor_of(mesh: Mesh, colour: Colour) -> Any:
    """Return the mesh as shiny metal, shaded smoothly except at its edges."""
    points, cells = vtkCommonCore.vtkPoints(), vtkCommonDataModel.vtkCellArray()
    points.SetData(numpy_to_vtk(np.ascontiguousarray(mesh.vertices), deep=True))
    cells.SetData(3, numpy_to_vtkIdTypeArray(mesh.faces.astype(np.int64).ravel(), deep=True))
    data = vtkCommonDataModel.vtkPolyData()
    data.SetPoints(points)
    data.SetPolys(cells)
    normals = vtkFiltersCore.vtkPolyDataNormals()
    normals.SetInputData(data)
    normals.SetFeatureAngle(50.0)
    mapper, actor = vtkRenderingCore.vtkPolyDataMapper(), vtkRenderingCore.vtkActor()
    mapper.SetInputConnection(normals.GetOutputPort())
    actor.SetMapper(mapper)
    look = actor.GetProperty()
    look.SetColor(*colour)
    look.SetAmbient(0.1)
    look.SetDiffuse(0.74)
    look.SetSpecular(0.5)
    look.SetSpecularPower(28.0)
    return actor


def photographed(
    scene: Any,
    size: tuple[int, int],
    focus: npt.NDArray[np.float64],
    axes: npt.NDArray[np.float64],
    deep: float,
    scale: float,
) -> Image:
    """Return a picture ``(height, width, 3)`` of a scene, ``scale`` mm per pixel, no perspective.

    ``axes``: to the right, up, toward the eye; ``deep``: how far the scene goes about its focus.
    """
    width, height = size
    camera, window = scene.GetActiveCamera(), vtkRenderingCore.vtkRenderWindow()
    camera.ParallelProjectionOn()
    camera.SetParallelScale(scale * height / 2)
    camera.SetFocalPoint(*focus)
    camera.SetPosition(*(focus + 2 * deep * axes[2]))
    camera.SetViewUp(*axes[1])
    scene.ResetCameraClippingRange()
    window.SetOffScreenRendering(True)
    window.SetMultiSamples(8)
    window.SetSize(width, height)
    window.AddRenderer(scene)
    window.Render()
    grab = vtkRenderingCore.vtkWindowToImageFilter()
    grab.SetInput(window)
    grab.ReadFrontBufferOff()
    grab.Update()
    image = vtk_to_numpy(grab.GetOutput().GetPointData().GetScalars()).reshape(height, width, 3)
    image = image[::-1].copy()
    window.Finalize()
    return image


def render(meshes: list[tuple[Mesh, Colour]], width: int, height: int) -> tuple[Image, float]:
    """Return a picture ``(height, width, 3)`` on white and its scale, mm per pixel."""
    toward = TOWARD / np.linalg.norm(TOWARD)
    right = AXIS - (AXIS @ toward) * toward
    right /= np.linalg.norm(right)
    axes = np.stack([right, np.cross(toward, right), toward])
    seen = np.concatenate([mesh.vertices for mesh, _ in meshes]) @ axes.T
    low, high = seen.min(axis=0), seen.max(axis=0)
    scale = 1.08 * max((high[0] - low[0]) / width, (high[1] - low[1]) / height)
    focus = (low + high) / 2 @ axes
    scene = vtkRenderingCore.vtkRenderer()
    scene.SetBackground(1.0, 1.0, 1.0)
    for mesh, colour in meshes:
        scene.AddActor(actor_of(mesh, colour))
    lights = vtkRenderingCore.vtkLightKit()
    lights.SetKeyLightAngle(45.0, 25.0)
    lights.SetKeyLightIntensity(1.0)
    lights.SetKeyToFillRatio(3.2)
    lights.AddLightsToRenderer(scene)
    deep = (high - low).max()
    image = photographed(scene, (width, height), focus, axes, deep, scale)
    covered = float(np.mean(np.any(image < 250, axis=-1)))
    assert 0.03 < covered < 0.95, f"{covered:.1%} of the picture is covered"
    assert image[np.any(image < 250, axis=-1)].std() > 10, "the picture has no shading"
    return image, scale


def caption(spring: Spring) -> str:
    """Return two lines: what it is, and its sizes in mm."""
    g, s = spring.model.geometry, spring.spec
    ends = " / ".join(e.style.replace("-", " ") for e in (s.ends.first, s.ends.second))
    return (
        f"{s.name}: {ends}\n"
        f"wire {g.wire_diameter:.3g}, mean coil {2 * g.coil_radius:.3g}, "
        f"{g.turns:.4g} coils {g.hand}-hand, inside hooks {spring.free_length:.4g} mm"
    )


def draw(names: list[str], out: File, width: int, height: int) -> None:
    """Render presets into one PNG; raises SystemExit with the reason if it cannot."""
    if MISSING:
        raise SystemExit(f"skipped: {MISSING}")
    import matplotlib as mpl

    mpl.use("Agg")
    import matplotlib.pyplot as plt

    columns = min(COLUMNS, len(names))
    rows = -(-len(names) // columns)
    fig, axes = plt.subplots(
        rows,
        columns,
        squeeze=False,
        figsize=(6.4 * columns, (6.4 * height / width + 0.75) * rows),
        dpi=width / 6.2,
        layout="constrained",
    )
    for ax in axes.flat:
        ax.axis("off")
    for ax, name in zip(axes.flat, names, strict=False):
        spring = Spring.from_preset(name)
        image, scale = render(checked_meshes(spring), width, height)
        ax.imshow(image, interpolation="antialiased")
        ax.set_title(caption(spring), fontsize=8.5, linespacing=1.4)
        bar = max(x for x in (1, 2, 5, 10, 20, 50, 100) if x / scale < width / 3)
        y = height * 1.02
        ax.plot([0, bar / scale], [y, y], color="black", lw=2, clip_on=False)
        ax.text(bar / scale + width / 80, y, f"{bar} mm", fontsize=8, va="center")
    fig.savefig(out)
    plt.close(fig)


def main() -> None:
    """Draw all presets."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("presets", nargs="*", help="all if left out")
    parser.add_argument("--out", type=File, default=File(__file__).with_name("presets.png"))
    parser.add_argument("--width", type=int, default=860, help="of a tile, pixels")
    o = parser.parse_args()
    draw(o.presets or sorted(presets()), o.out, o.width, o.width * 2 // 5)
    print(o.out)


if __name__ == "__main__":
    main()

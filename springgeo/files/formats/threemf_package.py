"""3MF packages by the core specification: objects of one mesh, metadata, attachments.

The same input gives the same bytes.

The part with the summary hangs on the model by the "must preserve" relationship, by which a
program that rewrites the file is asked to keep it.
"""

from __future__ import annotations

import zipfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from io import BytesIO
from xml.sax.saxutils import quoteattr

import numpy as np

from springgeo.curve.frame import Array
from springgeo.files.publish.detail import joined
from springgeo.mesh import Mesh

CORE = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
MODEL = "3D/3dmodel.model"
_XML = '<?xml version="1.0" encoding="UTF-8"?>\n'
_TYPES = (
    f'{_XML}<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
    '<Default Extension="rels" '
    'ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="model" '
    'ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>'
    '<Default Extension="json" ContentType="application/json"/></Types>'
)
_START = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
_KEEP = "http://schemas.openxmlformats.org/package/2006/relationships/mustpreserve"
# the file does not say when it was made; the earliest date a zip can state
_DATE = (1980, 1, 1, 0, 0, 0)


@dataclass(frozen=True, eq=False)
class Item:
    """One thing to be printed: a name, and named closed meshes in mm that belong together.

    They become one mesh of several shells, which may overlap: slicers take what is inside any of
    them, and set out the components of an object anew as if they were things of their own.
    """

    name: str
    parts: Sequence[tuple[str, Mesh]]


def package(
    items: Sequence[Item], metadata: Mapping[str, str], attachments: Mapping[str, str]
) -> bytes:
    """Return a 3MF file.

    Parameters
    ----------
    items : sequence of Item
        Their own coordinates are kept; the build moves all of them together so that none is
        negative, as the specification recommends.
    metadata : mapping
        Only names the core specification knows: Title, Description, Application ...
    attachments : mapping of str to str
        File name ending in ``.json`` to JSON text.
    """
    files = {
        "[Content_Types].xml": _TYPES,
        "_rels/.rels": _relationships([(f"/{MODEL}", _START)]),
        MODEL: _model(items, metadata),
        "3D/_rels/3dmodel.model.rels": _relationships(
            [(f"/Metadata/{name}", _KEEP) for name in attachments]
        ),
        **{f"Metadata/{name}": text for name, text in attachments.items()},
    }
    buffer = BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, text in files.items():
            info = zipfile.ZipInfo(name, _DATE)
            info.compress_type, info.create_system = zipfile.ZIP_DEFLATED, 3
            info.external_attr = 0o644 << 16
            archive.writestr(info, text.encode("utf-8"))
    return buffer.getvalue()


def _relationships(targets: Sequence[tuple[str, str]]) -> str:
    lines = "".join(
        f'<Relationship Target={quoteattr(target)} Id="rel{i}" Type="{kind}"/>'
        for i, (target, kind) in enumerate(targets)
    )
    space = "http://schemas.openxmlformats.org/package/2006/relationships"
    return f'{_XML}<Relationships xmlns="{space}">{lines}</Relationships>'


def _model(items: Sequence[Item], metadata: Mapping[str, str]) -> str:
    lines = [f'{_XML}<model unit="millimeter" xml:lang="en-US" xmlns="{CORE}">']
    for name, value in metadata.items():
        text = quoteattr(value, {"\n": " "})[1:-1]
        lines.append(f' <metadata name="{name}">{text}</metadata>')
    lines.append(" <resources>")
    for number, item in enumerate(items, 1):
        lines += _mesh_object(number, item.name, joined([mesh for _, mesh in item.parts]))
    lines.append(" </resources>\n <build>")
    meshes = [mesh for item in items for _, mesh in item.parts]
    move = -np.min([m.vertices.min(axis=0) for m in meshes], axis=0)
    shift = " ".join(_number(x) for x in move)
    lines += [
        f'  <item objectid="{i}" transform="1 0 0 0 1 0 0 0 1 {shift}"/>'
        for i in range(1, len(items) + 1)
    ]
    lines.append(" </build>\n</model>\n")
    return "\n".join(lines)


def _mesh_object(number: int, name: str, mesh: Mesh) -> list[str]:
    points = _rounded(mesh.vertices)
    return [
        f'  <object id="{number}" name={quoteattr(name)} type="model"><mesh><vertices>',
        "\n".join(f'<vertex x="{x}" y="{y}" z="{z}"/>' for x, y, z in points.tolist()),
        "</vertices><triangles>",
        "\n".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in mesh.faces.tolist()),
        "</triangles></mesh></object>",
    ]


def _rounded(points: Array) -> Array:
    """Return coordinates to a nanometre, without a negative zero."""
    rounded: Array = np.round(points, 6) + 0.0
    return rounded


def _number(x: float) -> str:
    return f"{x:.6f}"

"""Triangles and attachments of a 3MF package, read piece by piece: it may unpack to anything."""

from __future__ import annotations

import lzma
import zipfile
import zlib
from array import array
from collections.abc import Iterator
from io import BytesIO
from xml.parsers import expat

import numpy as np

from springgeo.files.formats.threemf_package import CORE, MODEL
from springgeo.mesh import Mesh

# how much a package may unpack to: bytes, and for each of its own; XML packs to a tenth, seldom
# to a fiftieth
UNPACKED, RATIO = 20_000_000, 50
_PIECE = 1 << 20
_BAD_ZIP = (
    zipfile.BadZipFile,
    zlib.error,
    lzma.LZMAError,
    EOFError,
    NotImplementedError,
    RuntimeError,
    OSError,
)


def read_threemf(data: bytes) -> tuple[Mesh, dict[str, str]]:
    """Return all triangles in their own coordinates, and attachments by name without ending.

    Raises
    ------
    ValueError
        Not a zip, damaged, unpacking to far more than a 3MF file of its size does, or not a 3MF
        model in millimetres.
    """
    most = UNPACKED + RATIO * len(data)
    try:
        with zipfile.ZipFile(BytesIO(data)) as archive:
            if (size := sum(i.file_size for i in archive.infolist())) > most:
                raise ValueError(
                    f"a 3MF file of {len(data) / 1e6:.3g} MB that unpacks to {size / 1e6:.3g} MB, "
                    f"more than the {most / 1e6:.3g} MB one of its size may"
                )
            names = set(archive.namelist())
            if MODEL not in names:
                raise ValueError(f"not a 3MF file: it has no {MODEL}")
            mesh = _Model().read(_pieces(archive, MODEL, most))
            words = {
                name[len("Metadata/") : -len(".json")]: _text(archive, name, most)
                for name in sorted(names)
                if name.startswith("Metadata/") and name.endswith(".json")
            }
    except _BAD_ZIP as exc:
        raise ValueError(f"not a sound 3MF file: {exc}") from None
    return mesh, words


def _pieces(archive: zipfile.ZipFile, name: str, most: int) -> Iterator[bytes]:
    """Yield a part of the package bit by bit, never more than ``most`` bytes of it."""
    with archive.open(name) as stream:
        while piece := stream.read(_PIECE):
            most -= len(piece)
            if most < 0:
                raise ValueError(f"{name} unpacks to more than it says")
            yield piece


def _text(archive: zipfile.ZipFile, name: str, most: int) -> str:
    return b"".join(_pieces(archive, name, most)).decode("utf-8")


class _Model:
    """Collects vertices and triangles from the XML as it streams by."""

    def __init__(self) -> None:
        self._points, self._faces = array("d"), array("q")
        self._first = 0

    def read(self, pieces: Iterator[bytes]) -> Mesh:
        parser = expat.ParserCreate(namespace_separator="}")
        parser.StartElementHandler = self._start
        parser.StartDoctypeDeclHandler = _refuse_doctype
        try:
            for piece in pieces:
                parser.Parse(piece, False)
            parser.Parse(b"", True)
        except expat.ExpatError as exc:
            raise ValueError(f"not a sound 3MF model: {exc}") from None
        except KeyError as exc:
            raise ValueError(f"not a sound 3MF model: an element has no {exc}") from None
        points = np.frombuffer(self._points, dtype=float).reshape(-1, 3)
        faces = np.frombuffer(self._faces, dtype=np.int64).reshape(-1, 3)
        if len(faces) and not 0 <= int(faces.min()) <= int(faces.max()) < len(points):
            raise ValueError("a triangle names a corner that is not there")
        return Mesh(points, faces.astype(np.int32))

    def _start(self, name: str, words: dict[str, str]) -> None:
        if name == f"{CORE}}}vertex":
            self._points.extend((float(words["x"]), float(words["y"]), float(words["z"])))
        elif name == f"{CORE}}}triangle":
            at = self._first
            corners = (int(words["v1"]), int(words["v2"]), int(words["v3"]))
            if min(corners) < 0:
                raise ValueError("a triangle names a corner that is not there")
            self._faces.extend([at + c for c in corners])
        elif name == f"{CORE}}}mesh":
            self._first = len(self._points) // 3
        elif name == f"{CORE}}}model" and words.get("unit", "millimeter") != "millimeter":
            raise ValueError(f"its unit is {words['unit'][:40]}; only millimetres are read")


def _refuse_doctype(*_args: object) -> None:
    raise ValueError("a 3MF model with a document type, which the format forbids")

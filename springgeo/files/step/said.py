"""What the text of a STEP file says of its solids: each face by kind, side and numbers.

Of files as they are written here, a statement to a line. Grammar: ISO 10303-21; entities: ISO
10303-42, both from memory.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from springgeo.curve.frame import Array
from springgeo.files.step.part21 import statements
from springgeo.files.step.text import unescape

_DATA, _END = "\nDATA;\n", "ENDSEC;\n"
_SOLID, _SHELL = "MANIFOLD_SOLID_BREP(", "CLOSED_SHELL("
_QUOTED = re.compile(r"'[^']*'")
_REFERENCE = re.compile(r"#\d+")
_NUMBER = re.compile(r"[-+.\dE]*\d[-+.\dE]*")
_KIND = re.compile(r"\(? *([A-Z0-9_]+)")
_WORDS = re.compile(r"DESCRIPTIVE_REPRESENTATION_ITEM\('([^']*)','([^']*)'\)")
_POINT = "CARTESIAN_POINT('',("
_PLACE = "AXIS2_PLACEMENT_3D("


class NotSaidError(ValueError):
    """The text is not that of whole solids."""


@dataclass(frozen=True, eq=False)
class Face:
    """A face: the kind of its surface as a keyword, its side, and the surface's numbers in order.

    ``along``: whether its normal is that of the surface. Of where one stands: origin and axis.
    """

    kind: str
    along: bool
    numbers: Array


class Said:
    """The statements of a file's data section by the numbers they are referred to by.

    Parameters
    ----------
    text : str
        Of the whole file.

    Raises
    ------
    NotSaidError
        It ends early, says a number twice, or refers to what it does not say.
    """

    def __init__(self, text: str) -> None:
        _, begun, data = text.partition(_DATA)
        data, ended, _ = data.rpartition(_END)
        if not (begun and ended):
            raise NotSaidError("it ends early")
        self.statements: dict[str, str] = {}
        count = 0
        for statement in statements(data):
            if not statement:  # behind the last
                continue
            number, _, says = statement.partition("=")
            self.statements[number.rstrip()] = says.lstrip()
            count += 1
        if len(self.statements) != count:
            raise NotSaidError("it says a number twice")
        missing = {*_REFERENCE.findall(_QUOTED.sub("", data))} - self.statements.keys()
        if missing:
            raise NotSaidError(f"it refers to {min(missing)}, and does not say that")

    def words(self) -> Iterator[tuple[str, str]]:
        """Yield the name and the text of each item that is a text, in order."""
        for says in self.statements.values():
            if found := _WORDS.fullmatch(says):
                yield unescape(found[1]), unescape(found[2])

    def solids(self) -> Iterator[tuple[Face, ...]]:
        """Yield the faces of each solid in order; raises NotSaidError where one is not closed."""
        for says in self.statements.values():
            if not says.startswith(_SOLID):
                continue
            (shell,) = _refs(says)
            if not self.statements[shell].startswith(_SHELL):
                raise NotSaidError("a solid without a closed shell")
            faces = _refs(self.statements[shell])
            self._require_closed(faces)
            yield tuple(self._face(self.statements[x]) for x in faces)

    def _face(self, says: str) -> Face:
        surface = self.statements[_refs(says)[-1]]
        kind = _KIND.match(surface)
        assert kind is not None
        numbers = _NUMBER.findall(self._whole(surface[kind.end() :]))
        return Face(kind[1], says.endswith(".T.)"), np.array([float(x) for x in numbers]))

    def _whole(self, says: str) -> str:
        """Return what a statement says, what it refers to written out, without keywords."""
        return _REFERENCE.sub(self._written_out, _QUOTED.sub("", says))

    def _written_out(self, found: re.Match[str]) -> str:
        says = self.statements[found[0]]
        if says.startswith(_POINT):
            return says[len(_POINT) :]
        if says.startswith(_PLACE):  # its last reference says where angles begin: no surface's
            says = says[: says.rindex(",")]
        return self._whole(says[says.index("(") :])

    def _require_closed(self, faces: list[str]) -> None:
        """Raise NotSaidError unless the faces pass each edge once either way."""
        passed: Counter[tuple[str, bool]] = Counter()
        for face in faces:
            for bound in _refs(self.statements[face])[:-1]:
                says = self.statements[bound]
                for oriented in _refs(self.statements[_refs(says)[0]]):
                    edge = self.statements[oriented]
                    passed[_refs(edge)[0], edge[-4:] == says[-4:]] += 1
        edges = {edge for edge, _ in passed}
        if any(passed[edge, way] != 1 for edge in edges for way in (False, True)):
            raise NotSaidError("its faces do not close")


def _refs(says: str) -> list[str]:
    return _REFERENCE.findall(_QUOTED.sub("", says))

"""CalculiX input deck: the wire in elements, with sets, material, supports and two steps."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

import numpy as np

from springgeo.curve.frame import Array
from springgeo.elements import Deck
from springgeo.elements.o_grid import Ints
from springgeo.elements.support import Grip
from springgeo.elements.turned import STEEL
from springgeo.elements.wire import set_name
from springgeo.errors import refused
from springgeo.files.formats.inp_heading import heading
from springgeo.files.publish.exporter import Exporter, ExportJob
from springgeo.summary.wire import contacts_of
from springgeo.text.shown import word

TYPE = {"hex20": "C3D20R", "hex8": "C3D8I", "beams": "B32R"}
# CalculiX's number of each face of a hexahedron, in the order of ``elements.FACES``
_FACE = np.array([1, 2, 3, 4, 5, 6])
# whole numbers to a line, and terms of an equation
_ROW, _TERMS = 12, 4
_ENDS = ("FIRST", "SECOND")


def write(target: Path, job: ExportJob) -> None:
    """Write the deck of the free spring."""
    deck = deck_of(job)
    with target.open("w", encoding="ascii", newline="\n") as stream:
        for block in blocks(deck, job):
            stream.write(block + "\n")


def deck_of(job: ExportJob) -> Deck:
    """Return the deck of a job; raises SpecError for a loaded state, or for too many elements."""
    if job.state.name != "free":
        text = word(
            "a deck starts from the free spring, and its steps pull it; leave --state out, or take "
            "vtu or msh for the mesh of a loaded one"
        )
        raise refused("deck-of-a-state", "state", text)
    m, s = job.summary.material, job.summary
    load = max((p.load for p in s.points), default=0.0) or s.pull.travel_stop_load
    return Deck.of(
        job.model,
        contacts_of(job.geometry),
        job.elements,
        (float(m.elastic_modulus), float(m.shear_modulus)),
        float(m.density),
        float(load),
    )


def blocks(deck: Deck, job: ExportJob) -> Iterator[str]:
    """Yield the deck card by card, without the last line break of each."""
    kind = TYPE[deck.wire.kind]
    yield from heading(deck, job, kind)
    yield "*NODE, NSET=ALL_NODES"
    yield _lines(np.arange(1, len(deck.nodes) + 1), deck.nodes)
    if deck.wire.kind == "beams":
        yield from _beams(deck)
    else:
        yield f"*ELEMENT, TYPE={kind}, ELSET=WIRE"
        yield _elements(deck.wire.elements)
    first = len(deck.wire.elements) + 1
    for fitting in deck.fittings:
        yield f"*ELEMENT, TYPE={kind}, ELSET={set_name(fitting.name)}"
        yield _elements(fitting.elements, first)
        first += len(fitting.elements)
    yield from _sets(deck)
    yield "*MATERIAL, NAME=SPRING_WIRE"
    yield f"*ELASTIC\n{deck.elastic:.12g}, {deck.poisson:.12g}"
    yield f"*DENSITY\n{deck.density:.6g}"
    if deck.wire.kind != "beams":
        yield "*SOLID SECTION, ELSET=WIRE, MATERIAL=SPRING_WIRE"
    if deck.fittings:
        yield "*MATERIAL, NAME=FITTING\n*ELASTIC\n{:.12g}, {:.12g}\n*DENSITY\n{:.6g}".format(*STEEL)
    for fitting in deck.fittings:
        yield f"*SOLID SECTION, ELSET={set_name(fitting.name)}, MATERIAL=FITTING"
    for name, grip, seat in zip(_ENDS, deck.grips, deck.seats, strict=True):
        if seat is not None:
            yield _rigid(f"{name}_SEAT", seat.node, seat.turn)
        yield from _grip(name, grip)
    yield from _supports(deck)
    yield from _steps(deck)


def _lines(number: Ints, rows: Array) -> str:
    """Return numbered rows of three coordinates."""
    form = "%d,%.12g,%.12g,%.12g\n" * len(rows)
    flat: list[float] = [
        x for i, row in zip(number.tolist(), rows.tolist(), strict=True) for x in (i, *row)
    ]
    return (form % tuple(flat))[:-1]


def _elements(elements: Ints, first: int = 1) -> str:
    count = elements.shape[1]
    if count == 20:  # a line holds sixteen numbers at most
        form = "%d" + ",%d" * 10 + ",\n" + ",".join(["%d"] * 10) + "\n"
    else:
        form = "%d" + ",%d" * count + "\n"
    rows = np.column_stack([first + np.arange(len(elements)), elements + 1])
    return ((form * len(rows)) % tuple(rows.ravel().tolist()))[:-1]


def _beams(deck: Deck) -> Iterator[str]:
    """Yield beams and their section, in two groups by where their first normal may point."""
    ends, middle = deck.wire.elements[:, :2], deck.wire.elements[:, 2]
    rows = np.column_stack([ends[:, 0], middle, ends[:, 1]])
    way = deck.nodes[ends[:, 1]] - deck.nodes[ends[:, 0]]
    level = np.abs(way[:, 2]) < 0.6 * np.linalg.norm(way, axis=1)
    d = float(deck.wire.diameter)
    for name, normal, chosen in (("LEVEL", "0.,0.,1.", level), ("STEEP", "1.,0.,0.", ~level)):
        if not chosen.any():
            continue
        yield f"*ELEMENT, TYPE=B32R, ELSET={name}_BEAMS"
        numbered = np.column_stack([np.arange(1, len(rows) + 1), rows + 1])[chosen]
        yield "\n".join(",".join(map(str, row)) for row in numbered.tolist())
        yield f"*BEAM SECTION, ELSET={name}_BEAMS, MATERIAL=SPRING_WIRE, SECTION=CIRC"
        yield f"{d:.12g},{d:.12g}\n{normal}"
    yield "*ELSET, ELSET=WIRE"
    yield ",\n".join(f"{n}_BEAMS" for n, c in (("LEVEL", level), ("STEEP", ~level)) if c.any())


def _sets(deck: Deck) -> Iterator[str]:
    wire = deck.wire
    for name, members in wire.sets.items():
        yield f"*ELSET, ELSET={name}"
        yield _numbers(members + 1)
    if wire.swept is not None:
        element, face = wire.swept.surface
        yield "*NSET, NSET=SURFACE_NODES"
        yield _numbers(np.unique(wire.swept.surface_nodes) + 1)
        yield "*SURFACE, NAME=WIRE_SURFACE, TYPE=ELEMENT"
        rows = zip((element + 1).tolist(), _FACE[face].tolist(), strict=True)
        yield "\n".join(f"{e},S{f}" for e, f in rows)
    for name, grip, seat in zip(_ENDS, deck.grips, deck.seats, strict=True):
        if seat is not None:
            yield f"*NSET, NSET={name}_SEAT"
            yield _numbers(seat.nodes + 1)
        yield f"*NSET, NSET={name}_{'CONTACT' if grip.weights is not None else 'GRIP'}"
        yield _numbers(grip.nodes + 1)
        yield f"*NSET, NSET={name}_PULL\n{grip.node + 1},"


def _numbers(numbers: Iterable[int]) -> str:
    words = [str(int(i)) for i in numbers]
    return ",\n".join(", ".join(words[i : i + _ROW]) for i in range(0, len(words), _ROW)) + ","


def _grip(name: str, grip: Grip) -> Iterator[str]:
    """Yield how a point of pull and the wire move together."""
    if grip.weights is None:
        assert grip.turn is not None
        yield _rigid(f"{name}_GRIP", grip.node, grip.turn)
        return
    if len(grip.nodes) == 1:
        return
    order = np.argsort(-np.abs(grip.weights), kind="stable")
    nodes, weights = grip.nodes[order], grip.weights[order]
    yield f"** {name}_PULL moves as the mean of the section at the contact"
    for k in (1, 2, 3):
        terms = [
            f"{n + 1},{k},{w:.12g}" for n, w in zip(nodes.tolist(), weights.tolist(), strict=True)
        ]
        terms.append(f"{grip.node + 1},{k},-1.")
        rows = [",".join(terms[i : i + _TERMS]) for i in range(0, len(terms), _TERMS)]
        yield "\n".join(["*EQUATION", str(len(terms)), *rows])


def _rigid(nodes: str, node: int, turn: int) -> str:
    return f"*RIGID BODY, NSET={nodes}, REF NODE={node + 1}, ROT NODE={turn + 1}"


def _supports(deck: Deck) -> Iterator[str]:
    yield "*BOUNDARY"
    for grip in deck.grips:
        for k in grip.moves:
            yield f"{grip.node + 1},{k},{k}"
        for k in grip.turns:
            assert grip.turn is not None
            yield f"{grip.turn + 1},{k},{k}"
    if deck.gauge is not None:
        yield "** keeps the spring from turning about the pull; no force comes of it"
        yield f"{deck.gauge + 1},2,2"


def _steps(deck: Deck) -> Iterator[str]:
    pulled = deck.grips[1].node + 1
    out = [
        "*NODE FILE\nU\n*EL FILE\nS",
        "*NODE PRINT, NSET=SECOND_PULL, FREQUENCY=1000\nU",
    ]
    if deck.wire.kind != "beams":
        out.append("*EL PRINT, ELSET=WIRE, FREQUENCY=1000\nS")
    yield "\n".join(
        ["*STEP", "*STATIC", f"*CLOAD\n{pulled},3,{deck.small:.12g}", *out, "*END STEP"]
    )
    yield "\n".join(
        ["*STEP, NLGEOM, INC=200", "*STATIC\n0.5,1.", f"*CLOAD\n{pulled},3,{deck.load:.12g}", *out]
    )
    yield "*END STEP"


EXPORTER = Exporter(
    "inp", "inp", "finite elements with sets and two steps, CalculiX deck", write, elements=True
)

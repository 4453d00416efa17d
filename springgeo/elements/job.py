"""What a deck for finite elements holds: the meshed wire, its ends, its material, its steps."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from springgeo.curve.frame import Array
from springgeo.elements.choice import Elements
from springgeo.elements.o_grid import Ints
from springgeo.elements.quality import volume
from springgeo.elements.support import Grip, Seat, gauge, held, steady, upright
from springgeo.elements.turned import Fitting
from springgeo.elements.wire import MeshedWire
from springgeo.errors import SpecError
from springgeo.findings import error
from springgeo.spring.geometry import Geometry
from springgeo.spring.model import SpringModel
from springgeo.statics import Contacts
from springgeo.text.shown import word

# share of the whole load that the linear step pulls with
SMALL = 0.01
# what the parts of an end begin with
ENDS = ("first", "second")


@dataclass(frozen=True, eq=False)
class Deck:
    """A spring ready to be pulled by a finite-element solver; mm, N, MPa, t/mm³.

    ``nodes`` (n, 3), of the wire, of the ``fittings``, then those of the ends, are turned so that
    the pull is along +z; ``turned`` says whether that is another frame than the spring's own. The
    elements of a fitting number its nodes in the deck. The node ``gauge`` is held along y, so that
    nothing turns about the pull; None where none need be. ``seats`` are those of the ends'
    fittings, None where an end has none that is meshed. ``load`` is that of the second,
    non-linear step.
    """

    wire: MeshedWire
    nodes: Array
    turned: bool
    fittings: tuple[Fitting, ...]
    grips: tuple[Grip, Grip]
    seats: tuple[Seat | None, Seat | None]
    gauge: int | None
    elastic: float
    poisson: float
    density: float
    load: float

    @property
    def solids(self) -> Array:
        """Nodes of wire and fittings, ``(m, 3) float, mm``."""
        return self.nodes[: len(self.wire.nodes) + sum(len(f.nodes) for f in self.fittings)]

    @property
    def volume(self) -> float:
        """Volume of the elements of wire and fittings, mm³."""
        return self.wire.volume + sum(volume(self.nodes, f.elements)[0] for f in self.fittings)

    @property
    def small(self) -> float:
        """Load of the first, linear step, N."""
        return SMALL * self.load

    @classmethod
    def of(
        cls,
        model: SpringModel,
        contacts: Contacts,
        choice: Elements,
        moduli: tuple[float, float],
        density: float,
        load: float,
    ) -> Deck:
        """Return the deck of a spring as drawn.

        Parameters
        ----------
        model : SpringModel
        contacts : Contacts
            Where the pull acts.
        choice : Elements
        moduli : (float, float), MPa
            E and G.
        density : float, g/cm³
        load : float, N

        Raises
        ------
        SpecError
            Too many elements; or beams on an end that is not a hook free to turn.
        """
        g = model.geometry
        turning = model.turning
        rigid = [s is None or t != "free" for s, t in zip(g.contact_s, turning, strict=True)]
        if choice.kind == "beams" and any(rigid):
            text = word(
                "beams need a hook, free to turn on its pin, at both ends; choose hex20 or hex8"
            )
            raise SpecError(error("beams-need-hooks", "elements", text))
        wire = MeshedWire.of(g, choice)
        turn = upright(contacts.point_a, contacts.point_b)
        middle = contacts.point_a
        fittings = _fittings(g, choice, len(wire.nodes))
        solid = [wire.nodes, *(f.nodes for f in fittings.values())]
        n = sum(map(len, solid))
        extra = [contacts.point_a, contacts.point_b]
        spans = ((0.0, contacts.s_a), (contacts.s_b, g.path.length))
        at = (contacts.s_a, contacts.s_b)
        grips: list[Grip] = []
        seats: list[Seat | None] = [None, None]
        taken: list[Ints] = []
        for i, (moves, turns) in enumerate(held(turning)):
            nodes, weights = wire.section_at(at[i])
            if choice.kind == "beams":
                grips.append(Grip(int(nodes[0]), nodes, weights, None, moves, ()))
            elif rigid[i]:
                if g.contact_s[i] is None:
                    nodes = wire.between(*spans[i])
                extra.append(extra[i])
                hold, turning_node = nodes, n + len(extra) - 1
                if (fitting := fittings.get(ENDS[i])) is not None:
                    extra += [extra[i], extra[i]]
                    tied = np.concatenate([nodes, fitting.seat])
                    seats[i] = Seat(tied, n + len(extra) - 2, n + len(extra) - 1)
                    hold = fitting.held
                grips.append(Grip(n + i, hold, None, turning_node, moves, turns))
            else:
                grips.append(Grip(n + i, nodes, weights, None, moves, ()))
            taken.append(nodes)
        places = np.vstack([*solid, *([] if choice.kind == "beams" else extra)])
        places = middle + (places - middle) @ turn.T
        free = np.setdiff1d(wire.between(contacts.s_a, contacts.s_b), np.concatenate(taken))
        E, G = moduli
        return cls(
            wire,
            places,
            not np.array_equal(turn, np.eye(3)),
            tuple(fittings.values()),
            (grips[0], grips[1]),
            (seats[0], seats[1]),
            None if steady(turning) else gauge(places, free, middle),
            E,
            E / (2 * G) - 1,
            density * 1e-9,
            load,
        )


def _fittings(geometry: Geometry, choice: Elements, first: int) -> dict[str, Fitting]:
    """Return by end the parts that are meshed, their nodes numbered from ``first`` on."""
    found: dict[str, Fitting] = {}
    for part in geometry.parts:
        made = Fitting.of(part, 1 if choice.kind == "hex8" else 2)
        if made is None:
            continue
        found[part.name.partition(".")[0]] = replace(
            made, elements=made.elements + first, seat=made.seat + first, held=made.held + first
        )
        first += len(made.nodes)
    return found

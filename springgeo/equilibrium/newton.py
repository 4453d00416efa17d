"""Newton's method for the poses of all nodes at a load or at a chord.

The wrench of every cell is an unknown of its own: it steers the geometric stiffness while the
poses are still off, which is what lets one step go as far as several free lengths.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.kinds.helix_arc import ArcEnds
from springgeo.curve.motion import apply, cross, rotation, skew, transposed
from springgeo.equilibrium.boundary import Pull
from springgeo.equilibrium.cell import Strain
from springgeo.equilibrium.contact.pairs import Law
from springgeo.equilibrium.contact.pressing import Pressing, pressing
from springgeo.equilibrium.contact.stand import PLACES, Stand
from springgeo.equilibrium.linear.cells import linearised
from springgeo.equilibrium.linear.system import Band, assembled
from springgeo.equilibrium.moved import by_strain, by_twists
from springgeo.equilibrium.posed import Rates, Shape, beside_pins
from springgeo.equilibrium.rod import Rod

# a step below this, rad and wire diameters, is the last
SETTLED = 1e-6
# roughly: what a next step would be, by the square of the last one
_ROUGH = 6e-5
ROUNDS = 40
# a long spring on a pull that is small beside what its coils press with hangs no stiller than this
_SWING = 1e-3
# rates are followed up to so many times the load
_ONWARD = 2.0
# a step so many times the first one, or a wire diameter, leads nowhere
_ASTRAY = 20.0
# the most a cell may turn in one step, rad
_STRIDE = 0.35
# where that cuts so many steps in a row, or one to less than this share, a smaller leap is the
# shorter way: of 9,910 solves that settled 4 had such, and none of them was part of an answer
_CUTS, _CUT = 6, 0.05
# where a node turns by more in one step, rad, the nodes follow the strain, coils being apart
_SWINGS = 0.1
# stretch that one iteration allows a straight cell, over h d²/(EI): a hundredth of its elastic one
_GIVE = 1e-3
# a cell shorter than so many wire diameters is given what one so long would be, and as much across:
# else it is so stiff that the whole is lost in its rounding errors
_SHORT = 0.05
# change of a contact force over the pressing force, so many times less counts as a step
_PRESSED = 0.3
# coils in contact are first solved with so soft a law, the next step with this share of it, down
# to the true one: fewer steps, and never many. Not where the load changes by less than this
# share of what presses
_WIDE, _NARROWER, _NEAR = 60.0, 0.2, 0.07
# so often a step is turned to the forces that the law has where it leads, by the same factors of
# the stiffness: half as many steps. Not one that leads further than a wire diameter, nor where
# that is less than this share of what presses: rounding errors of more solves swing a long spring
_TURNS, _SLIGHT = 4, 1e-5
# where B's point should be along the pull, mm, in a shape
Height = Callable[["Shape"], float]
# across the pull
_ASIDE = np.array([1.0, 1.0, 0.0])


class NotSettledError(ArithmeticError):
    """The iteration does not settle from where it was started."""


@dataclass(frozen=True, eq=False)
class Problem:
    """A rod to be solved for its poses."""

    rod: Rod
    pull: Pull = field(default_factory=Pull)

    @cached_property
    def _give(self) -> Array:
        """What one iteration allows the cells along and across, ``(3, n) mm/N``."""
        rod, length = self.rod, self.rod.drawn.length
        short = _SHORT * rod.wire_diameter
        soft = _GIVE * np.maximum(length, short) * rod.wire_diameter**2 / rod.stiffness[:, 1]
        return np.stack([soft, *[np.where(length < short, soft, 0.0)] * 2])

    def at_rest(self) -> Shape:
        """Return the drawn shape: in equilibrium without a load."""
        d = self.rod.drawn
        return Shape(0.0, d.R, d.p, d.strain, self.rod.rest_wrench, self.rod.rest_force)

    def height(self, shape: Shape) -> float:
        """Return how far B's point lies along the pull from A's, mm."""
        s = self.rod.supports
        return float(s.b.point(shape.R[-1], shape.p[-1])[2] - s.a.point(shape.R[0], shape.p[0])[2])

    def at_load(
        self, load: float, start: Shape, *, far: bool | None = None, roughly: bool = False
    ) -> tuple[Shape, Rates]:
        """Return the shape at a load, N, and its rates; raises NotSettledError.

        ``far``: whether other coils may press than at the start; told by the load unless given.
        ``roughly``: whether rates may be those of one step before, of which nothing is left but
        ``_ROUGH``.
        """
        if far is None:
            far = abs(load - start.load) > _NEAR * self.rod.pressing
        shape = self.with_statics(replace(start, load=load), start.wrench[-1])
        return self._solve(shape, None, far, roughly=roughly)

    def at_height(
        self, height: float, start: Shape, beside: Callable[[Shape], float]
    ) -> tuple[Shape, Rates]:
        """Return the shape with B's point ``height`` mm along the pull; raises NotSettledError.

        That and what a shape has ``beside`` it, mm, which changes little in a step.
        """
        return self._solve(start, lambda shape: height - beside(shape), far=False)

    def onward(self, shape: Shape, rates: Rates, more: float) -> Shape | None:
        """Return where a shape's rates take it with ``more`` N; None where they lead too far.

        Up to ``_ONWARD`` times the load it is the step that Newton's method would begin with.
        """
        strain = Strain(more * rates.strain.middle, more * rates.strain.slope)
        step = Rates(
            more * rates.twist, strain, more * rates.wrench, more * rates.pressing, rates.chord
        )
        if self._size(step)[1] < 1.0 or shape.load + more > _ONWARD * shape.load:
            return None
        return self._moved(shape, step, 1.0, shape.load + more)

    def with_statics(self, shape: Shape, last: Array) -> Shape:
        """Return a shape with the wrench that statics gives it.

        The pull goes through B's point along +z, so load, pair forces, the wire's weight, and side
        force and couple of B's support (taken from the wrench ``last`` on B's node) determine the
        wrench of any shape, in balance or not. With it a step can go as far as several free
        lengths: it knows what keeps a spring hung on two pins from tilting.
        """
        ends, weight = self.rod.supports, self.rod.weight
        at, R, p = ends.b, shape.R[-1], shape.p[-1]
        load = self.pull.times(shape.load)
        last = last - beside_pins(self.rod, shape)[1]
        couple = at.couple(R, self.rod.drawn.R[-1], last) + load.couple
        force = load.force if ends.aside is None else load.force + (R @ last[:3]) * _ASIDE
        back = transposed(shape.R[1:])
        moment = couple + cross(at.point(R, p) - shape.p[1:], force)
        pull = np.einsum("nij,j->ni", back, force)
        wrench = np.concatenate([pull, apply(back, moment)], axis=1)
        stand = None
        if self.rod.felt(shape.pressing):
            stand = shape.stand or Stand.of(self.rod.pairs, shape.R, shape.p)
            wrench += stand.wrench(shape.pressing, shape.R, shape.p)
        if weight is not None:
            wrench += weight.wrench(shape.R, shape.p)
        return replace(shape, wrench=wrench, stand=stand)

    def _solve(
        self, shape: Shape, height: Height | None, far: bool, *, roughly: bool = False
    ) -> tuple[Shape, Rates]:
        astray = before = np.inf
        cuts = 0
        wide = _WIDE if far and self.rod.felt(shape.pressing) else 1.0
        for i in range(ROUNDS):
            law = self.rod.law.widened(wide)
            step, rates, load = self._step(shape, height, law)
            size, share = self._size(step)
            if i == 0:
                astray = _ASTRAY * max(size, 1.0)
            cuts = cuts + 1 if share < 1.0 else 0
            if cuts == _CUTS or share < _CUT or not size < astray:
                break
            shape = self._moved(shape, step, share, load)
            # wire and coils are in balance, and rounding alone swings the whole about the pull
            swings = before / 2 < size < _SWING and self._strained(step) < SETTLED
            # a step the square of the last one has only its own square left
            rough = roughly and i > 0 and size * min(1.0, size / before) < _ROUGH
            if wide == 1.0 and (size < SETTLED or swings or rough):
                return shape, rates()
            before, wide = size, max(1.0, wide * _NARROWER)
        raise NotSettledError(f"no equilibrium at {shape.load:g} N within {ROUNDS} steps")

    def _step(
        self, shape: Shape, height: Height | None, law: Law
    ) -> tuple[Rates, Callable[[], Rates], float]:
        """Return a step, what tells the rates, and the load it leads to."""
        rod, ends = self.rod, self.rod.supports
        length = rod.drawn.length
        back = transposed(shape.R[:-1])
        relative = ArcEnds(back @ shape.R[1:], apply(back, shape.p[1:] - shape.p[:-1]))
        cells = linearised(
            length, rod.tangent, rod.natural, shape.strain, shape.wrench, relative, self._give
        )
        press = None
        if rod.felt(shape.pressing):
            stand = shape.stand or Stand.of(rod.pairs, shape.R, shape.p)
            press = pressing(stand, law, shape.pressing)
        band, off = assembled(cells, press)
        right = np.zeros((2, *off.shape))
        unit, slope = ends.b.load(shape.R[-1], self.pull)
        right[0] = -off
        right[0, -1] += shape.load * unit
        last = len(off) - 1
        band.block(last, last)[:] -= shape.load * slope
        right[1, -1] = unit
        if rod.weight is not None:
            right[0] += rod.weight.on_nodes(shape.R)
            band.add(slice(None), 0, -rod.weight.slopes(shape.R))
        solved, further = self._in_space(band, right, shape)
        straight, beyond = solved[0].copy(), np.zeros(())
        load = self._to_height(shape, height, solved)
        if press is not None and np.abs(straight[:, :3]).max() < rod.wire_diameter:
            for _ in range(_TURNS):
                beyond = press.beyond(solved[0])
                if np.abs(beyond).max(initial=0.0) < _SLIGHT * law.scale:
                    break
                solved[0] = straight + further(press.on(beyond, len(off)))
                load = self._to_height(shape, height, solved)
        rises = self._rises(shape, solved)
        near, far = solved[0, :-1], solved[0, 1:]
        wrench = cells.wrench_step(near, far)
        force = self._pair_step(shape, press, solved[0], beyond)
        step = Rates(solved[0], Strain(*cells.strain_step(wrench)), wrench, force, rises[0])

        def rates() -> Rates:
            twist = solved[1]
            apart = twist[1:] - apply(transposed(cells.to_near), twist[:-1])
            wrench = apply(cells.stiffness, apart)
            force = self._pair_step(shape, press, twist)
            return Rates(twist, Strain(*cells.strain_rate(wrench)), wrench, force, rises[1])

        return step, rates, load

    def _to_height(self, shape: Shape, height: Height | None, solved: Array) -> float:
        """Return the load, N, at which a step leads to a height; the step is turned to that."""
        if height is None:
            return shape.load
        rise = self._rises(shape, solved)
        more = (height(shape) - self.height(shape) - rise[0]) / rise[1]
        solved[0] += more * solved[1]
        return float(shape.load + more)

    def _rises(self, shape: Shape, twists: Array) -> list[float]:
        """Return how far B's point goes along the pull with each of the twists of all nodes, mm."""
        level = self.rod.supports.b.rising(shape.R[-1])
        rises: list[float] = (twists[:, -1] @ level).tolist()
        return rises

    def _pair_step(
        self, shape: Shape, press: Pressing | None, twist: Array, beyond: Array | None = None
    ) -> Array:
        """Return the change of the pair forces with a motion of the nodes, ``(k,) N``.

        ``beyond``: to the law's forces there, which have so much more than the straight ones.
        """
        if press is None:
            return np.zeros(len(shape.pressing))
        change = np.zeros((len(shape.pressing) // PLACES, PLACES))
        change[press.rows] = press.step(twist).T
        if beyond is not None:
            now = shape.pressing.reshape(change.shape)[press.rows]
            change[press.rows] += (press.force + beyond).T - now
        return change.ravel()

    def _in_space(
        self, band: Band, right: Array, shape: Shape
    ) -> tuple[Array, Callable[[Array], Array]]:
        """Return the twists of all nodes, with the motions of both ends held in space.

        And what tells those that further loads on the nodes, ``(n, 6)`` in their axes, add.
        """
        ends = self.rod.supports
        last = right.shape[1] - 1
        drawn = self.rod.drawn.R
        held = (
            (0, ends.a, ends.held_a, np.zeros(2)),
            (last, ends.b, ends.held_b, self._aside(shape)),
        )
        carriers = []
        for node, at, motions, aside in held:
            axes, back = at.facing(shape.R[node], drawn[node])
            T = at.carrier(shape.R[node], axes)
            carriers.append((node, T, motions))
            wanted = np.concatenate([aside, np.zeros(1), back])
            band.turn(node, T)
            if node == last and ends.aside is not None:
                # the pull's share of B's force turns with the node, what bears it aside does not
                own = band.block(node, node)
                own[:3, 3:] += skew(shape.R[-1] @ right[0, -1, :3]) @ axes
            right[:, node] = right[:, node] @ T
            band.hold(node, motions, right, wanted[motions])
        solve = band.solver()

        def turned_back(solved: Array) -> Array:
            for node, T, _ in carriers:
                solved[:, node] = solved[:, node] @ T.T
            return solved

        def further(loads: Array) -> Array:
            for node, T, motions in carriers:
                loads[node] = loads[node] @ T
                loads[node, motions] = 0.0
            found: Array = turned_back(solve(loads[None]))[0]
            return found

        return turned_back(solve(right)), further

    def _aside(self, shape: Shape) -> Array:
        """Return how far B's point has yet to move aside, ``(2,) mm``."""
        ends = self.rod.supports
        if ends.aside is None:
            return np.zeros(2)
        a, b = ends.a.point(shape.R[0], shape.p[0]), ends.b.point(shape.R[-1], shape.p[-1])
        wanted: Array = ends.aside - (b - a)[:2]
        return wanted

    def _size(self, step: Rates) -> tuple[float, float]:
        """Return the size of a step, and the share of it that may be taken."""
        bend = self._bend(step)
        moved = float(np.abs(step.twist[:, :3]).max()) / self.rod.wire_diameter
        turned = float(np.abs(step.twist[:, 3:]).max())
        size = max(moved, turned, self._strained(step))
        return size, min(1.0, _STRIDE / max(bend, 1e-300))

    def _bend(self, step: Rates) -> float:
        """Return the most by which a step bends a cell, rad."""
        return float(np.abs(self.rod.drawn.length[:, None] * step.strain.middle).max())

    def _strained(self, step: Rates) -> float:
        """Return the size of a step without what moves the whole spring as it is."""
        pressed = float(np.abs(step.pressing).max(initial=0.0)) / (self.rod.law.scale or 1.0)
        return max(self._bend(step), _PRESSED * pressed)

    def _moved(self, shape: Shape, step: Rates, share: float, load: float) -> Shape:
        twist = share * step.twist
        strain = Strain(
            shape.strain.middle + share * step.strain.middle,
            shape.strain.slope + share * step.strain.slope,
        )
        swings = float(np.abs(twist[:, 3:]).max()) > _SWINGS
        if swings and self.rod.supports.follow and not self.rod.felt(shape.pressing):
            R, p = by_strain(self.rod, shape.R[0] @ rotation(twist[:1, 3:])[0], strain)
        else:
            R, p = by_twists(shape.R, shape.p, twist)
        force = self.rod.law.stepped(shape.pressing, shape.pressing + share * step.pressing)
        at = shape.load + share * (load - shape.load)
        moved = Shape(at, R, p, strain, shape.wrench, force)
        return self.with_statics(moved, shape.wrench[-1] + share * step.wrench[-1])

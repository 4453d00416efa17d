"""Finds the spring's equilibrium from a neighbour, with coils in contact or apart."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from springgeo.curve.frame import Array
from springgeo.curve.kinds.helix_arc import ArcEnds
from springgeo.curve.motion import apply, cross, rotation
from springgeo.equilibrium.branch import from_the_drawn, same_branch
from springgeo.equilibrium.contact.pairs import FELT
from springgeo.equilibrium.newton import NotSettledError, Problem
from springgeo.equilibrium.posed import Rates, Shape
from springgeo.equilibrium.rod import Rod
from springgeo.equilibrium.solved import Solved

# how many smaller steps are tried before the search is given up
_ATTEMPTS = 24
# below this share of the pull that parts the coils, contact is felt for certain
_SURE = 0.7
# by so many times a load is raised until all coils are apart
_UP = 1.25
# so many times that pull, coils that press are not looked for unless parted ones would overlap
_FREE = 4.0
# between states with coils in contact, so far from the lower one others may press, by share of
# what presses
_BETWEEN = 0.2
# a state with coils in contact is the better start from this share of a load on
_CLOSE = 0.9


@dataclass(frozen=True, eq=False)
class Balance:
    """A rod and the ways to its states."""

    rod: Rod

    @cached_property
    def _problem(self) -> Problem:
        return Problem(self.rod)

    @cached_property
    def rest(self) -> Shape:
        """The drawn shape."""
        return self._problem.at_rest()

    @cached_property
    def _rest_height(self) -> float:
        return self._problem.height(self.rest)

    @cached_property
    def _rest_stretch(self) -> float:
        return stretch(self.rod, self.rest)

    def at_load(
        self, load: float, near: Solved | None = None, guess: Solved | None = None
    ) -> Solved:
        """Return the equilibrium at a load above zero, N; raises NotSettledError.

        ``near`` is known, ``guess`` a better start than it if it serves at all.
        """
        if load > self.most:
            raise NotSettledError(f"{load:g} N is beyond {self.most:g} N")
        if guess is not None and self.in_contact(guess.shape):
            far = near is None or load - near.load > _BETWEEN * self.rod.pressing
            with suppress(NotSettledError):
                return self._solved(*self._problem.at_load(load, guess.shape, far=far))
            guess = None
        try:
            return self._direct(load, near, guess)
        except NotSettledError:
            if self._near_parting(load):
                with suppress(NotSettledError):
                    return self._let_down(load, near)
            return self._stepped(load, near, self._direct)

    def _near_parting(self, load: float) -> bool:
        """Return whether coils may part one by one about a load, N."""
        press = self.rod.pressing
        return len(self.rod.pairs) > 0 and _SURE * press < load <= _FREE * press

    def _let_down(self, load: float, near: Solved | None) -> Solved:
        """Return the equilibrium by smaller steps from above, where all coils are apart.

        They meet one place after the other then; from below many at once would have to part.
        ``near`` is where to look for them apart from.
        """
        near = self.parted(_UP * load, near)
        while self.overlaps(near.shape):
            if near.load > _FREE * _UP * self.rod.pressing:
                raise NotSettledError(f"coils do not part above {load:g} N")
            near = self.parted(_UP * near.load, near)
        step = (near.load - load) / 2
        for _ in range(2 * _ATTEMPTS):
            aim = max(load, near.load - step)
            try:
                near = self._direct(aim, near)
            except NotSettledError:
                step /= 2
                continue
            if near.load <= load:
                return near
            step *= 2
        raise NotSettledError(f"no way down to {load:g} N")

    @cached_property
    def most(self) -> float:
        """The pull beyond which nothing is looked for, N: twice GJ/R² of the widest coil.

        A helix of radius R drawn to the lead angle α pulls with about (GJ/R²) sin α.
        """
        rod = self.rod
        bend = np.sqrt(np.sum(rod.drawn.strain.middle[:, 1:] ** 2, axis=1))
        # the median; numpy's own loads its masked arrays
        body = float(np.sort(bend)[(len(bend) - 1) // 2 : len(bend) // 2 + 1].mean())
        return 2 * float(rod.stiffness[:, 0].max()) * body**2

    def parted(self, load: float, near: Solved | None = None) -> Solved:
        """Return the equilibrium with all coils taken to be apart; raises NotSettledError."""
        try:
            return self._apart(load, near)
        except NotSettledError:
            # drawn, a coiled-in spring is in balance against the pull that presses, not without
            return self._stepped(load, near, self._apart, self.rod.pressing)

    def unwound(self, load: float) -> Solved:
        """Return the equilibrium with all coils apart at a load, N, above what presses.

        From the drawn shape, in which a wound spring is in balance against the pull that presses,
        if that leads there; else by that pull. Raises NotSettledError.
        """
        with suppress(NotSettledError):
            found = self._apart(load, None)
            if from_the_drawn(self.rod, self.rest, found):
                return found
        return self.led(load, self.parted(self.rod.pressing))

    def led(self, load: float, base: Solved) -> Solved:
        """Return that which the curve of parted coils leads to from a state below.

        In smaller steps where a leap finds nothing, or another curve: a spring wound at a stress
        that no wire would bear. Raises NotSettledError.
        """
        return self._stepped(load, base, self._apart, first=1.0)

    def settled(self, load: float, shape: Shape) -> Solved:
        """Return the equilibrium at a load, N, from a shape as it is; raises NotSettledError."""
        return self._solved(*self._problem.at_load(load, shape))

    def _apart(self, load: float, near: Solved | None) -> Solved:
        start = self.rest if near is None else near.shape
        return self._solved(*self._problem.at_load(load, self._parted(start), roughly=True))

    def at_extension(self, extension: float, near: Solved) -> Solved:
        """Return the equilibrium at an extension, mm, from one nearby; raises NotSettledError."""
        height = self._rest_height + self._rest_stretch + extension
        for _ in range(4):
            near = self._solved(
                *self._problem.at_height(height, near.shape, lambda x: stretch(self.rod, x))
            )
            if abs(extension - near.extension) <= 1e-10 * self.rod.wire_diameter:
                break
        if self.overlaps(near.shape):
            raise NotSettledError("coils meet")
        return near

    def onward(self, near: Solved, load: float, before: Solved | None = None) -> Solved:
        """Return a state as a start for a load: carried on by its rates where these reach.

        ``before`` is a state below it on the same curve, if one is known: what its rates differ by
        bends the way.
        """
        more, rates = load - near.load, near.rates
        if before is not None:
            rates = rates.bent(before.rates, more / (2 * (near.load - before.load)))
        moved = self._problem.onward(near.shape, rates, more)
        return near if moved is None else replace(near, shape=moved)

    def with_statics(self, shape: Shape, last: Array) -> Shape:
        """Return a shape with the wrench that statics gives it (``Problem.with_statics``)."""
        return self._problem.with_statics(shape, last)

    def risen(self, shape: Shape) -> float:
        """Return by how much a shape's points of pull are further apart than drawn, mm."""
        return self._problem.height(shape) - self._rest_height

    def placed(self, shape: Shape, rates: Rates, more: float) -> ArcEnds:
        """Return the pose of the first node when the pull grows by ``more`` N, A's point held."""
        turn = rotation(more * rates.twist[:1, 3:])[0]
        R = shape.R[0] @ turn
        return ArcEnds(R, -R @ self.rod.supports.a.offset)

    def in_contact(self, shape: Shape) -> bool:
        """Return whether any pair of coils presses on each other."""
        return self.rod.felt(shape.pressing)

    def _stepped(
        self,
        load: float,
        near: Solved | None,
        solve: Callable[[float, Solved | None], Solved],
        rest: float = 0.0,
        first: float = 0.5,
    ) -> Solved:
        """Return the equilibrium by smaller steps, each half the one that failed.

        ``rest`` is the load, N, that the drawn shape is a good start for; ``first`` the share of
        the way that is tried first.
        """
        if near is not None and near.load < load:
            base = near.load
        else:
            base, near = min(rest, load / 2), None
        step, failed = first * (load - base), False
        for _ in range(_ATTEMPTS):
            aim = min(base + step, load)
            try:
                found = solve(aim, self._ahead(near, aim))
            except NotSettledError:
                found = None
            if found is None or (near is not None and self._leads_elsewhere(near, found)):
                step, failed = step / 2, True
                continue
            near = found
            if aim >= load:
                return near
            # twice as far again, but not right after that was too far
            step = min(step if failed else 2 * step, load - near.load)
            base, failed = near.load, False
        raise NotSettledError(f"no way to {load:g} N")

    def _ahead(self, near: Solved | None, load: float) -> Solved | None:
        """Return a state as a start for a higher load: carried on by its rates, coils apart."""
        if near is None or self.in_contact(near.shape):
            return near
        return self.onward(near, load)

    def _leads_elsewhere(self, before: Solved, after: Solved) -> bool:
        """Return whether two states with coils apart lie on different curves."""
        apart = not any(self.in_contact(x.shape) for x in (before, after))
        return apart and not same_branch(self.rod, before, after)

    def _stretching(self, shape: Shape, rates: Rates) -> float:
        """Return the change of the wire's own stretch per newton, mm/N.

        Of N t·z: the force in the wire grows, where coils press not in step with the load, and
        the wire turns to the pull.
        """
        spin, R = rates.twist[:, 3:], shape.R
        own = shape.wrench[:, :3]
        force, more = apply(R[1:], own), apply(R[1:], rates.wrench[:, :3] + cross(spin[1:], own))
        t = R[:, :, 0]
        turned = spin[:, 2:] * R[:, :, 1] - spin[:, 1:2] * R[:, :, 2]
        at = (slice(None, -1), slice(1, None))
        change = sum(
            np.sum(force * turned[i], axis=1) * t[i, 2]
            + np.sum(force * t[i], axis=1) * turned[i, 2]
            for i in at
        )
        turning = float(change @ self.rod.drawn.length) / 2 / self.rod.axial
        return _stretch_by(self.rod, shape, more) + turning

    def _direct(self, load: float, near: Solved | None, guess: Solved | None = None) -> Solved:
        touching = near is not None and self.in_contact(near.shape)
        apart = near is not None and not touching and load >= near.load
        first = guess if guess is not None else None if touching else near
        overlapping = None
        if not (apart or touching) and _SURE * self.rod.pressing < load < self.rod.pressing:
            # below what presses some coils do, as good as always: they need not be parted first
            (cold,) = self._pressed(load, None, None)
            with suppress(NotSettledError):
                return self._solved(*self._problem.at_load(load, cold))
        if apart or load > _SURE * self.rod.pressing or not len(self.rod.pairs):
            start = self.rest if first is None else first.shape
            try:
                shape, rates = self._problem.at_load(load, self._parted(start))
            except NotSettledError:
                if not len(self.rod.pairs) or load > _FREE * self.rod.pressing:
                    raise
            else:
                if not self.overlaps(shape):
                    return self._solved(shape, rates)
                overlapping = shape
        *others, last = self._pressed(load, near if touching else None, overlapping)
        for start in others:
            try:
                return self._solved(*self._problem.at_load(load, start))
            except NotSettledError:
                continue
        return self._solved(*self._problem.at_load(load, last))

    def _pressed(
        self, load: float, near: Solved | None, overlapping: Shape | None
    ) -> tuple[Shape, ...]:
        """Return starts for a state with coils in contact, the most promising first.

        ``near`` has coils in contact; ``overlapping`` is in balance with coils in one another.
        """
        if near is not None:
            last = near.shape
        else:
            share = max(1 - load / self.rod.pressing, 0.02)
            last = replace(self.rest, pressing=np.maximum(share * self.rest.pressing, 1e-20))
        if overlapping is None or (near is not None and near.load > _CLOSE * load):
            return (last,)
        # where they lie in one another, coils press: a good start near the knee
        gaps = self.rod.pairs.gaps(overlapping.R, overlapping.p)
        force = self.rod.law.awake(overlapping.pressing, gaps)
        return replace(overlapping, pressing=force), last

    def _parted(self, shape: Shape) -> Shape:
        return replace(shape, pressing=np.full(len(self.rod.pairs), 1e-20 * self.rod.law.scale))

    def overlaps(self, shape: Shape) -> bool:
        """Return whether coils that were taken to be apart would feel each other."""
        if not len(self.rod.pairs) or self.in_contact(shape):
            return False
        gaps = self.rod.pairs.gaps(shape.R, shape.p)
        return bool(gaps.min() < FELT * self.rod.width)

    def _solved(self, shape: Shape, rates: Rates) -> Solved:
        own = stretch(self.rod, shape)
        return Solved(
            shape,
            rates,
            self.risen(shape) + own - self._rest_stretch,
            rates.chord + self._stretching(shape, rates),
        )


def stretch(rod: Rod, shape: Shape) -> float:
    """Return by how much the wire's own stretch lengthens the spring, mm: ∫ N t·z/(EA) ds."""
    return _stretch_by(rod, shape, apply(shape.R[1:], shape.wrench[:, :3]))


def _stretch_by(rod: Rod, shape: Shape, force: Array) -> float:
    """Return the stretch by forces of the cells in space, ``(n, 3) N``."""
    t = shape.R[:, :, 0]
    near, far = t[:-1], t[1:]

    def share(at: Array) -> Array:
        result: Array = np.sum(force * at, axis=1) * at[:, 2]
        return result

    middle = near + far
    middle = middle / np.sqrt(np.sum(middle * middle, axis=1))[:, None]
    simpson = (share(near) + 4 * share(middle) + share(far)) / 6
    return float(simpson @ rod.drawn.length) / rod.axial

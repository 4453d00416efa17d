"""A specified spring with everything computed of it: drawn, loaded, stressed; nothing written."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Self

from springgeo.equilibrium.load_curve import LoadCurve
from springgeo.errors import SpecError, refused
from springgeo.results.along_wire import WirePoint
from springgeo.specification.change import changed
from springgeo.state import State
from springgeo.statics.profile import StressProfile
from springgeo.summarised import SummarisedSpring
from springgeo.summary.handbook import Handbook
from springgeo.summary.mounted_stop import mounted_stop
from springgeo.summary.mounting import WireMounted, mounted_points
from springgeo.summary.place import mounted
from springgeo.summary.reach.states import out_of_reach
from springgeo.summary.wire import AlongWire
from springgeo.text.state_words import parse_state, require_distinct

if TYPE_CHECKING:
    from cadquery import Solid

    from springgeo.fit import FitReport, Mating
    from springgeo.mesh import Mesh
    from springgeo.results.overload import Overload
    from springgeo.results.tolerance import Tolerance


class ComputedSpring(SummarisedSpring):
    """A spring of which everything may be asked; ``springgeo.Spring`` adds files and pages.

    Its states under load, stress, fit, tolerance and overload, its solid and its picture.
    Arguments, and what is raised, as for `SummarisedSpring`.
    """

    def at(self, *, load: float | None = None, length: float | None = None) -> State:
        """Return the spring in equilibrium under a load (N) or at a length inside hooks (mm).

        Parameters
        ----------
        load, length : float
            Exactly one of them.

        Raises
        ------
        SpecError
            Both or neither given, not finite, below the free length, or beyond what the wire can
            be drawn to. A state beyond what the spring holds has a warning in ``findings``.
        """
        curve = self.load_curve
        try:
            at = curve.state(load=State.asked(curve, load=load, length=length))
        except SpecError as exc:
            raise out_of_reach(self.along_the_wire, load, exc) from None
        return State.of(self.along_the_wire, at)

    def states(
        self, *, loads: Sequence[float] = (), lengths: Sequence[float] = ()
    ) -> tuple[State, ...]:
        """Return many states in rising order, faster than one by one; raises SpecError.

        Between solved states strains are interpolated, good to a few thousandths of a wire
        diameter.
        """
        wire, found = self.along_the_wire, self.load_curve.states(loads=loads, lengths=lengths)
        return tuple(State.of(wire, at) for at in found)

    def mounted(
        self,
        mating: Mating | None = None,
        *,
        loads: Sequence[float] = (),
        lengths: Sequence[float] = (),
    ) -> tuple[State, ...]:
        """Return states of the spring where it is mounted, in rising order; raises SpecError.

        With pins out of line or skew, ends held otherwise than by their style, or the wire's own
        weight, as a mating section has it: that of the specification if left out. Loads and
        lengths are those along the line of pull of the spring as drawn. A state's
        ``equilibrium.pins`` is what the pins do to the spring.
        """
        there = self._there(mating)
        if there is None:
            return self.states(loads=loads, lengths=lengths)
        return tuple(
            State.of(there, at, self.along_the_wire)
            for at in there.place.states(loads=loads, lengths=lengths)
        )

    @property
    def is_mounted(self) -> bool:
        """Whether the specification's mating section makes its pull another than the straight."""
        return self._there(None) is not None

    def points_mounted(self, mating: Mating | None = None) -> tuple[WirePoint, ...]:
        """Return the working points where a mating section mounts the spring; raises SpecError.

        That of the specification if left out. Those without load are left out, unless the pull is
        straight: then these are the summary's.
        """
        there = self._there(mating)
        return self._summary.along_the_wire.points if there is None else mounted_points(there)

    def travel_stop(self, mating: Mating | None = None) -> float:
        """Return the length, mm, at which the first stress reaches its allowable as mounted.

        By a mating section, that of the specification if left out; raises SpecError.
        """
        pull, there = self._summary.pull, self._there(mating)
        if there is None:
            return pull.travel_stop
        if pull.mounted is not None and (mating is None or mating == self.spec.mating):
            return pull.mounted.length
        return mounted_stop(there, pull.travel_stop_load).length

    @cached_property
    def _mountings(self) -> list[tuple[Mating | None, WireMounted | None]]:
        return []

    def _there(self, mating: Mating | None) -> WireMounted | None:
        """Return the wire as mounted; None where the pull is straight; each made once."""
        mating = self.spec.mating if mating is None else mating
        for known, there in self._mountings:
            if known == mating:
                return there
        book = self.along_the_wire.book
        own = mating == self.spec.mating
        place = book.place if own else mounted(book.model, book.curve, mating)
        found = None if place is None else WireMounted(book, place)
        self._mountings.append((mating, found))
        del self._mountings[:-4]
        return found

    def named_states(
        self, wanted: Sequence[str | State], *, as_mounted: bool = False
    ) -> tuple[State, ...]:
        """Return states by name, in the order given: ``free``, a load (25N), a length (60mm).

        ``as_mounted``: where the specification's mating section mounts it (``mounted``); the free
        state stays as drawn. So is a state below the free length, where the spring is taut as
        mounted alone.

        Raises
        ------
        SpecError
            A word is none of these, a name comes twice, or a state cannot be reached.
        """
        states = tuple(
            w if isinstance(w, State) else self._named(w, as_mounted=as_mounted) for w in wanted
        )
        require_distinct([state.name for state in states])
        return states

    def _named(self, word: str, *, as_mounted: bool) -> State:
        asked = parse_state(word)
        if asked.load is None and asked.length is None:
            return self.free
        # below the free length a spring can be taut as mounted alone
        short = asked.length is not None and asked.length < self.free_length * (1 - 1e-9)
        if (as_mounted or short) and self._there(None) is not None:
            loads, lengths = ([x] if x is not None else [] for x in (asked.load, asked.length))
            return self.mounted(loads=loads, lengths=lengths)[0].called(asked.name)
        return self.at(load=asked.load, length=asked.length).called(asked.name)

    @cached_property
    def along_the_wire(self) -> AlongWire:
        """Stress along the wire at any load, from its equilibrium."""
        return AlongWire(Handbook(self.model))

    @property
    def load_curve(self) -> LoadCurve:
        """Load over length, the one answer; a mechanism (``fit.mechanism``) asks for no more."""
        return self.along_the_wire.curve

    def stress(self, load: float | None = None) -> StressProfile:
        """Return the stress along the wire, station by station.

        ``load`` in N, finite and from zero up, else SpecError; the highest of the specification,
        or 1 N, if left out.
        """
        if load is None:
            load = max((p.load for p in self._summary.points), default=1.0)
        if not 0 <= load < math.inf:
            text = f"{load} N is not a finite load from zero up"
            raise refused("bad-value", "load", text)
        return StressProfile.of(self.along_the_wire.at(load), load)

    def overload(
        self,
        *,
        load: float | None = None,
        length: float | None = None,
        relieved: float = 1.0,
        hardening: float = 0.0,
        told: Callable[[float], object] | None = None,
    ) -> Overload:
        """Return an estimate of what an overload leaves: length, hooks, initial tension.

        Between the least and the greatest published elastic limit of the wire; takes seconds.

        Parameters
        ----------
        load, length : float, N or mm
            One of them at most; neither: only the load that costs 0.1 % of the length.
        relieved : float
            Share of the residual stress of coiling that heat treatment took away, 0 to 1.
        hardening : float
            Rise of stress over plastic strain beyond the elastic limit, as a share of E.
        told : callable, optional
            Is told every load that is looked at, N: for a display of progress.

        Raises
        ------
        SpecError
            A value is out of range, no elastic limit is published, or the wire yields through.
        """
        from springgeo.summary.overload.facts import overload_facts
        from springgeo.summary.overload.given import Given

        return overload_facts(Handbook(self.model), Given(load, length, relieved, hardening), told)

    def tolerance(
        self,
        tolerances: Mapping[str, object] | None = None,
        *,
        springs: int | None = None,
        seed: int = 1,
        told: Callable[[str], object] = lambda _step: None,
    ) -> Tolerance:
        """Return how springs come out whose dimensions stray: loads, rate, margins, share inside.

        A million springs by the handbook's closed form, corrected by the wire in equilibrium.

        Parameters
        ----------
        tolerances : mapping, optional
            Keys of the section ``tolerances`` that take the place of the specification's, such as
            ``{"wire_diameter": "0.01 mm", "share": "99 %"}``.
        springs, seed : int
            How many are drawn (1,048,576), and which: the same seed gives the same answer.
        told : callable
            Is told of every step: for a display of progress.

        Raises
        ------
        SpecError
            A tolerance is none or does not fit the spring, or no spring drawn can be made.
        """
        from springgeo.tolerance import tolerance_facts
        from springgeo.tolerance.facts import SPRINGS

        values = {f"tolerances.{key}": value for key, value in (tolerances or {}).items()}
        asked = changed(self.spec, values).tolerances if values else self.spec.tolerances
        count = SPRINGS if springs is None else springs
        return tolerance_facts(Handbook(self.model), asked, springs=count, seed=seed, told=told)

    def fit(self, mating: Mating | None = None, *, states: int = 20) -> FitReport:
        """Return how the hooks fit their mating parts, those of the specification if left out.

        Over the stroke, in as many states; raises SpecError without mating parts.
        """
        from springgeo.fit import fit

        return fit(self, mating, states=states)

    def solid(self) -> Solid:
        """Return the exact solid as a CadQuery ``Solid`` (loads the kernel)."""
        return self.free.solid()

    def mesh(self, chord: float | None = None) -> Mesh:
        """Return a watertight triangle mesh; ``chord`` is its greatest error in mm (0.01 d)."""
        return self.free.mesh(chord)

    def unasked(self) -> Self:
        """Return the spring before anything was asked of it; itself if nothing was.

        A state may lie some 1e-9 beside the same state sought from others: what files hold must
        not depend on what was asked before.
        """
        asked = "along_the_wire" in self.__dict__
        return type(self)(self.spec, self.model.text) if asked else self

    @property
    def free(self) -> State:
        """The spring without load, as drawn."""
        return State.free(self.along_the_wire)

    def picture(self, width: int = 640) -> str:
        """Return an SVG drawing of the free spring, first end to the left."""
        from springgeo.picture import spring_svg

        g = self.model.geometry
        return spring_svg(
            g.path, g.wire_diameter, parts=g.parts, width=width, title=repr(self).strip("<>")
        )

    def _repr_html_(self) -> str:
        """Show a picture and the key numbers in a notebook; works offline."""
        s, shown = self._summary, self.shown
        rows = [
            (shown.say("free length inside hooks"), shown.length(self.free_length, 4)),
            (shown.say("rate, handbook"), shown.rate(s.rate)),
            (shown.say("rate, small load"), shown.rate(s.along_the_wire.rate)),
            (shown.say("initial tension"), shown.force(s.initial_tension.force)),
        ]
        if s.verdict is not None:
            rows.append((shown.say("verdict"), shown.text(s.verdict.words)))
        cells = "".join(f"<tr><td>{k}</td><td>{v}</td></tr>" for k, v in rows)
        return f"<div>{self.picture()}<table>{cells}</table></div>"

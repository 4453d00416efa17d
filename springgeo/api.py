"""The one façade: a ``Spring`` that computes, shows, checks and writes itself."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from os import PathLike
from pathlib import Path
from typing import TYPE_CHECKING, Any, Self

import yaml

from springgeo.curve import Path as Centreline
from springgeo.equilibrium.load_curve import LoadCurve
from springgeo.equilibrium.spring_state import SpringState
from springgeo.errors import SpecError
from springgeo.findings import error
from springgeo.specification import Spec
from springgeo.specification.change import changed
from springgeo.specification.load import read_preset_text, read_spec_text, spec_of
from springgeo.spring.model import SpringModel
from springgeo.state import State
from springgeo.summary import Summary
from springgeo.summary.build import summarise
from springgeo.summary.handbook import Handbook
from springgeo.summary.reach import out_of_reach, state_findings
from springgeo.summary.wire import AlongWire
from springgeo.text.shown import Shown

if TYPE_CHECKING:
    from cadquery import Solid

    from springgeo.fit import FitReport
    from springgeo.mesh import Mesh
    from springgeo.results.overload import Overload


class Spring:
    """A spring from a validated specification.

    Parameters
    ----------
    spec : Spec
    text : str, optional
        The text of the file it was read from.

    Raises
    ------
    SpecError
        The spring cannot be made; the exception's ``findings`` say why and what to change.
    """

    def __init__(self, spec: Spec, text: str | None = None) -> None:
        self.model = SpringModel.of(spec, text)

    @classmethod
    def from_file(cls, path: str | PathLike[str]) -> Self:
        """Return the spring a YAML file describes; raises FileError or SpecError."""
        spec, text = read_spec_text(path)
        return cls(spec, text)

    @classmethod
    def from_preset(cls, name: str) -> Self:
        """Return one of the embedded example springs; raises SpecError."""
        spec, text = read_preset_text(name)
        return cls(spec, text)

    @classmethod
    def from_dict(cls, data: Mapping[str, Any]) -> Self:
        """Return the spring a mapping describes, as a YAML file would hold it."""
        return cls(spec_of(data))

    def with_(self, values: Mapping[str, Any] | None = None, /, **changes: Any) -> Self:
        """Return the spring with some values of its specification changed.

        ``spring.with_(wire__diameter=1.4)``: two underscores stand for the dot of a key;
        ``spring.with_({"ends.a.bend_radius": "2 mm"})`` says the same with the keys of a file. A
        value is what a file may hold, None takes the key away, and another form of one thing
        (``body__index`` for ``mean_diameter``) takes the old one's place. Raises SpecError.
        """
        new = {key.replace("__", "."): value for key, value in changes.items()}
        return type(self)(changed(self.spec, {**(values or {}), **new}))

    @property
    def spec(self) -> Spec:
        """The specification."""
        return self.model.spec

    @property
    def specification_text(self) -> str:
        """The specification as its author wrote it, else as YAML with bare numbers in mm and N."""
        text = self.model.text
        if text is not None and not isinstance(self.spec.wire.material, dict):
            return text
        data = self.spec.model_dump(mode="json", exclude_none=True)
        return yaml.safe_dump(data, sort_keys=False, allow_unicode=True)

    @property
    def shown(self) -> Shown:
        """Units and language of the specification, for whatever is shown of it."""
        return Shown(self.spec.units, self.spec.language)

    @property
    def centreline(self) -> Centreline:
        """The wire's centreline: the source of everything else."""
        return self.model.geometry.path

    @cached_property
    def _summary(self) -> Summary:
        from springgeo.checks.centreline import centreline_checks

        return summarise(self.model, centreline_checks(self.model))

    def summary(self) -> Summary:
        """Return everything computed without a solid: geometry, stresses, findings, checks."""
        return self._summary

    @property
    def free_length(self) -> float:
        """Length inside hooks without load, mm."""
        return self.model.geometry.length

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
        return self._state(at)

    def states(
        self, *, loads: Sequence[float] = (), lengths: Sequence[float] = ()
    ) -> tuple[State, ...]:
        """Return many states in rising order, faster than one by one; raises SpecError.

        Between solved states strains are interpolated, good to a few thousandths of a wire
        diameter.
        """
        return tuple(self._state(at) for at in self.load_curve.states(loads=loads, lengths=lengths))

    def _state(self, at: SpringState) -> State:
        found = state_findings(self.along_the_wire, at.load)
        return replace(State.of(self.load_curve, at), findings=found)

    @cached_property
    def along_the_wire(self) -> AlongWire:
        """Stress along the wire at any load, from its equilibrium."""
        return AlongWire(Handbook(self.model))

    @property
    def load_curve(self) -> LoadCurve:
        """Load over length, the one answer; a mechanism (``fit.mechanism``) asks for no more."""
        return self.along_the_wire.curve

    def stress(self, load: float | None = None) -> dict[str, Any]:
        """Return the stress along the wire as columns ``(n,)`` by name.

        ``load`` in N, finite and from zero up, else SpecError; the highest of the specification,
        or 1 N, if left out.
        """
        from springgeo.statics import profile

        if load is None:
            load = max((p.load for p in self._summary.points), default=1.0)
        if not 0 <= load < math.inf:
            text = f"{load} N is not a finite load from zero up"
            raise SpecError(error("bad-value", "load", text))
        return profile(self.along_the_wire.at(load))

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

        Between the least and the greatest published elastic limit of the wire. Takes a second or
        two.

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
        from springgeo.summary.overload import overload_facts

        return overload_facts(
            Handbook(self.model),
            load=load,
            length=length,
            relieved=relieved,
            hardening=hardening,
            told=told,
        )

    def fit(self, states: int = 20) -> FitReport:
        """Return how the hooks fit the specification's mating parts over the stroke."""
        from springgeo.fit import fit

        return fit(self, states=states)

    def solid(self) -> Solid:
        """Return the exact solid as a CadQuery ``Solid`` (loads the kernel)."""
        return self._free_state.solid()

    def mesh(self, chord: float | None = None) -> Mesh:
        """Return a watertight triangle mesh; ``chord`` is its greatest error in mm (0.01 d)."""
        return self._free_state.mesh(chord)

    @property
    def _free_state(self) -> State:
        return self.at(length=self.free_length)

    def export(self, folder: str | PathLike[str], *, overwrite: bool = True) -> tuple[Path, ...]:
        """Build, check and write STEP, STL and summary JSON; return the files written.

        Raises
        ------
        BuildError
            A check on the finished solid failed; nothing is written.
        FileError
            The folder cannot be written, or a file exists and ``overwrite`` is false.
        """
        from springgeo.files.publish.bundle import export_bundle

        return export_bundle(self.model, Path(folder), overwrite=overwrite).files

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

    def __repr__(self) -> str:
        g, shown = self.model.geometry, self.shown
        return (
            f"<Spring '{self.spec.name}': d {shown.length(g.wire_diameter, 6)}, D "
            f"{shown.length(2 * g.coil_radius, 6)}, {shown.number(g.turns)} coils, L0 "
            f"{shown.length(g.length, 5)}>"
        )

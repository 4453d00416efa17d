"""The job file: what a spring must do and may be, before it has any dimension."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property
from os import PathLike
from pathlib import Path
from typing import Annotated, Any, Literal, Self

from pydantic import (
    BeforeValidator,
    Field,
    PlainSerializer,
    PrivateAttr,
    ValidationError,
    WithJsonSchema,
    model_validator,
)

from springgeo import materials
from springgeo.ends import registry
from springgeo.errors import SpecError, SpringgeoError
from springgeo.materials import Material, sizes
from springgeo.sizing.job.cycle import within_the_job
from springgeo.sizing.job.duties import Duties
from springgeo.sizing.job.end_option import EndOption
from springgeo.sizing.job.need import Installed, Lever, Line, LoadPoint, Stored, lines_within
from springgeo.specification.bare import bare_fields
from springgeo.specification.base import SpecModel, one_of, rule
from springgeo.specification.name import MaterialName, Name
from springgeo.specification.problems import findings_of
from springgeo.specification.quantity import Length, Number, WireSize
from springgeo.text.json_value import Json
from springgeo.text.quantity import Units
from springgeo.text.yaml_text import yaml_of
from springgeo.trade.limits import limits
from springgeo.trade.practice import practice

Objective = Literal[
    "mass", "envelope", "margin", "cost", "free_length", "natural_frequency", "in_tolerance"
]
Positive = Annotated[Length, Field(gt=0)]
Factor = Annotated[Number, Field(gt=0, le=100)]


def _end(value: object) -> EndOption:
    try:
        return EndOption.parse(value)
    except SpecError as exc:
        first = exc.findings[0]
        raise rule(first.code, first.message) from None


End = Annotated[
    Any,
    BeforeValidator(_end),
    PlainSerializer(lambda x: x.written()),
    WithJsonSchema({"anyOf": [{"type": "string"}, {"type": "object"}]}),
]
Names = Annotated[tuple[str, ...], Field(max_length=50)]


def _material(value: object) -> object:
    """Return a material by name, or a user's own by content."""
    try:
        return materials.embedded(value)
    except SpringgeoError as exc:
        first = exc.findings[0] if isinstance(exc, SpecError) else None
        code, text = (first.code, first.message) if first else ("material-file", str(exc))
        raise rule(code, text) from None


Wires = Annotated[
    tuple[Annotated[MaterialName, BeforeValidator(_material)], ...], Field(max_length=50)
]


class Envelope(SpecModel):
    """The room: greatest outer diameter, rod inside, free length, length of each hook."""

    outer_diameter: Positive | None = None
    rod_diameter: Positive | None = None
    free_length: Positive | None = None
    hook_a: Positive | None = None
    hook_b: Positive | None = None


class Choice(SpecModel):
    """What may be used; an empty list means everything known.

    ``materials`` are names, paths of material files, or such a file's content.
    ``wire_sizes`` (mm) overrules ``series``. ``ends`` are styles by name, or with proportions:
    ``{style: full-twisted-loop, bend_radius: 2.5 d}``. ``mixed_ends``: the two ends may differ.
    """

    materials: Wires = ()
    series: Names = ()
    wire_sizes: Annotated[tuple[Annotated[WireSize, Field(gt=0)], ...], Field(max_length=200)] = ()
    ends: Annotated[tuple[End, ...], Field(max_length=50)] = ()
    mixed_ends: bool = False
    index: tuple[Number, Number] = (4.0, 16.0)

    @model_validator(mode="after")
    def _known(self) -> Self:
        try:
            ids = list(self.known_materials)
            for name in self.series:
                sizes.series(name)
        except SpecError as exc:
            first = exc.findings[0]
            raise rule(first.code, first.message) from None
        if len(ids) < len(self.materials):
            text = "names one material twice, or two with one id; keep one of them"
            raise rule("material-twice", text, "choice.materials")
        low, high = limits()["index"]
        if not low <= self.index[0] <= self.index[1] <= high:
            raise rule(
                "index-range",
                f"{self.index[0]:g} to {self.index[1]:g} must rise and lie within {low:g} to "
                f"{high:g}; narrow it",
                "choice.index",
            )
        return self

    @cached_property
    def known_materials(self) -> dict[str, Material]:
        """The materials to take wire of, by id; raises SpecError or FileError."""
        found = map(materials.get, self.materials or materials.names())
        return {m.id: m for m in found}

    def written_material(self, name: str) -> str | dict[str, Json]:
        """Return a material as a specification carries it: by name, or a user's own by content."""
        own = [m for m in self.materials if not isinstance(m, str)]
        return next((m for m in own if m.get("id") == name), name)

    @property
    def all_series(self) -> tuple[str, ...]:
        """The series to take sizes from."""
        return self.series or tuple(sizes.series_names())

    def end_pairs(self, *, turned: bool) -> tuple[tuple[EndOption, EndOption], ...]:
        """Return the first and second ends to be tried; ``turned``: each pair both ways round."""
        styles = registry.styles().values()
        names = self.ends or tuple(EndOption(s.name) for s in styles if s.holds_load and s.offered)
        if not self.mixed_ends:
            return tuple((n, n) for n in names)
        pairs = tuple((a, b) for i, a in enumerate(names) for b in names[i:])
        return (*pairs, *((b, a) for a, b in pairs if a != b)) if turned else pairs


LEAST = practice("sizing_margin")


class Least(SpecModel):
    """Least factors: static at body, hook bending, hook torsion; fatigue if asked for."""

    body: Factor = LEAST
    hook_bending: Factor = LEAST
    hook_torsion: Factor = LEAST
    fatigue: Factor = LEAST


class Job(SpecModel):
    """One sizing job; exactly one of ``points``, ``installed``, ``energy``, ``lever``.

    ``initial_tension``: ``preferred`` keeps it in the range makers find easy to wind, ``any``
    asks only that it is not negative. ``use_tolerance``: what share of the loads' tolerance the
    design itself may take up, where that makes it feasible or better; what it takes is lost to the
    maker, so it is none unless asked for. ``apart``: choices with the same ends differ by this
    share at least in wire diameter, coil diameter, rate or shear modulus. ``method``: the answer
    holds by the stress and the rate along the wire, or by the handbook alone. ``objectives`` spans
    the front; ``weights`` ranks it; ``in_tolerance`` asks for the greatest share of springs whose
    loads keep their tolerance when they are made as makers make them.
    """

    name: Name = "sizing job"
    # of tables and pictures; what is written again is in mm
    units: Annotated[Units, Field(exclude=True)] = "mm"
    points: Annotated[tuple[LoadPoint, ...], Field(max_length=50)] | None = None
    installed: Installed | None = None
    energy: Stored | None = None
    lever: Lever | None = None
    envelope: Envelope = Envelope()
    choice: Choice = Choice()
    service: Duties = Duties()
    least: Least = Least()
    initial_tension: Literal["preferred", "any"] = "preferred"
    use_tolerance: Annotated[Number, Field(ge=0, le=1)] = 0.0
    apart: Annotated[Number, Field(ge=0, le=1)] = 0.05
    method: Literal["along-the-wire", "handbook"] = "along-the-wire"
    objectives: Annotated[tuple[Objective, ...], Field(min_length=1, max_length=7)] = (
        "mass",
        "margin",
        "envelope",
    )
    weights: dict[Objective, Annotated[Number, Field(ge=0)]] = Field(default_factory=dict)

    _bare: tuple[str, ...] = PrivateAttr(default=())
    # loads at the shorter length of an energy, N, beside those that are always looked at
    _between: tuple[float, ...] = PrivateAttr(default=())
    # the fraction of a coil that each end pair is to be tried with; none where any will do
    _parts: tuple[float, ...] = PrivateAttr(default=())

    @property
    def bare(self) -> tuple[str, ...]:
        """Dotted keys of the numbers that a job with ``units: inch`` gives without a unit."""
        return self._bare

    @model_validator(mode="after")
    def _need(self) -> Self:
        forms = {
            "points": self.points,
            "installed": self.installed,
            "energy": self.energy,
            "lever": self.lever,
        }
        one_of({k: None if v is None else 1.0 for k, v in forms.items()}, "need")
        if len(set(self.objectives)) < len(self.objectives):
            raise rule("objective-twice", "an objective is named twice", "objectives")
        if extra := set(self.weights) - set(self.objectives):
            text = f"{sorted(extra)[0]} has a weight but is not among the objectives"
            raise rule("weight-without-objective", text, "weights")
        if self.energy is not None and self.use_tolerance:
            text = "is for loads at lengths; an energy leaves the load at the shorter length open"
            raise rule("tolerance-of-energy", text, "use_tolerance")
        assert self.lines
        within_the_job(self.service.spectrum, self.lines)
        return self

    @cached_property
    def end_pairs(self) -> tuple[tuple[EndOption, EndOption], ...]:
        """First and second ends to be tried: either way round where their rooms differ."""
        room = self.envelope
        return self.choice.end_pairs(turned=room.hook_a != room.hook_b)

    @cached_property
    def lines(self) -> tuple[Line, ...]:
        """The load lines that fulfil the job: one, or several where the job leaves it open.

        An energy does, and so do loads of whose tolerance the search may use a share.
        """
        if self.energy is not None:
            return self.energy.lines(self._between)
        return lines_within(self.load_points, self.use_tolerance)

    @property
    def is_open(self) -> bool:
        """Whether the load at the shorter length is open: any line of an energy does."""
        return self.energy is not None and self.energy.load is None

    def with_lines_from(self, loads: Iterable[float]) -> Job:
        """Return the job with more lines of its energy: from loads at the shorter length, N."""
        found = self.model_copy()
        found.__dict__.pop("lines", None)
        found._between = (*self._between, *loads)  # noqa: SLF001
        return found

    @property
    def keeps_part(self) -> bool:
        """Whether each end pair is tried with one fraction of a coil."""
        return bool(self._parts)

    def part(self, ends: int) -> float | None:
        """Return the fraction of a coil that an end pair is tried with; None for any."""
        return self._parts[ends] if self._parts else None

    def at_parts(self, pairs: Sequence[int], parts: Sequence[float]) -> Job:
        """Return the job with some of its end pairs alone, each with every fraction of a coil."""
        found = self.model_copy()
        found.__dict__["end_pairs"] = tuple(self.end_pairs[n] for n in pairs for _ in parts)
        found._parts = tuple(part for _ in pairs for part in parts)  # noqa: SLF001
        return found

    @cached_property
    def load_points(self) -> tuple[LoadPoint, ...]:
        """Loads at lengths as asked for; empty for an energy."""
        for form in (self.installed, self.lever):
            if form is not None:
                return form.points()
        return self.points or ()

    def limited_loads(self, line: Line) -> list[tuple[float, float, float]]:
        """Return lengths, mm, with the loads wanted there and their tolerances, N."""
        if self.energy is not None:
            share = self.energy.tolerance
            return [(x, f, share * f) for x, f in ((line.L_1, line.F_1), (line.L_2, line.F_2))]
        return [(p.length, p.load, p.tolerance * p.load) for p in self.load_points]


def job_of(data: Mapping[str, object]) -> Job:
    """Return the validated job of a mapping; raises SpecError."""
    try:
        job = Job.model_validate(dict(data))
    except ValidationError as exc:
        raise SpecError(findings_of(exc, Job)) from None
    if job.units == "inch":
        job._bare = bare_fields(Job, data)  # noqa: SLF001
    return job


def read_job(path: str | PathLike[str]) -> Job:
    """Return the job in a YAML file; raises FileError or SpecError."""
    data = yaml_of(path, "job")
    choice = data.get("choice")
    if isinstance(choice, dict) and isinstance(choice.get("materials"), list):
        # a user's own material lies beside the job that names it
        own = [materials.embedded(m, Path(path).parent) for m in choice["materials"]]
        data["choice"] = choice | {"materials": own}
    return job_of(data)

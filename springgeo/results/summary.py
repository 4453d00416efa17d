"""The summary: versioned keys, SI-mm throughout (mm, N, MPa, N/mm, kg, deg, degC)."""

from __future__ import annotations

import hashlib
import json
from typing import Any, Literal

from pydantic import Field

from springgeo.findings import Finding
from springgeo.message import Text
from springgeo.results.loaded import CoilContacts, CurvePoint, Lean, Pins, Rates
from springgeo.results.overload import Overload
from springgeo.results.part import CAUTIONS as CAUTIONS
from springgeo.results.part import Part as Part
from springgeo.results.part import Reached as Reached
from springgeo.results.place import Place

SCHEMA = "springgeo-summary/1"

# the two methods, and what the verdict may be
Way = Literal["handbook", "along the wire"]
Outcome = Literal["holds", "fails", "not judged"]


class MaterialFacts(Part):
    """The wire's material as used, at the service temperature: MPa, g/cm³."""

    id: str
    title: str
    tensile_strength: float
    tensile_source: Text
    shear_modulus: float
    elastic_modulus: float
    density: float


class Sourced(Part):
    """A value, where it comes from, and how that is known; None with ``not known``."""

    value: float | None
    source: str
    known: str


class TemperatureFacts(Part):
    """The service temperature, degC, its limits, and what it does to the wire.

    Shares are of the figures at 20 degC; ``material`` holds the figures as used.
    """

    value: float
    highest: Sourced
    lowest: Sourced
    modulus_share: Sourced
    strength_share: Sourced
    relaxation_percent: Sourced


class GeometryFacts(Part):
    """What was built: mm, kg, deg. Hook lengths run from the body's end face to the inside."""

    wire_diameter: float
    mean_diameter: float
    outer_diameter: float
    inner_diameter: float
    index: float
    body_coils: float
    total_coils: float
    hand: str
    pitch: float
    coil_gap: float
    body_length: float
    hook_length_a: float
    hook_length_b: float
    loop_angle: float | None
    free_length: float
    overall_length: float
    wire_length: float
    mass: float
    loop_radius_a: float | None
    loop_radius_b: float | None
    bend_radius_a: float | None
    bend_radius_b: float | None
    opening_a: float | None
    opening_b: float | None
    # the narrowest way past the cut end of a hook, true to 0.01 d
    mouth_a: float | None = None
    mouth_b: float | None = None


class FittedPart(Part):
    """A solid that an end holds beside the wire: name, volume, mm³, sizes as built, mm."""

    name: str
    volume: float
    sizes: dict[str, float] = Field(default_factory=dict)


class FreeLength(Part):
    """Free length inside hooks by three ways, mm; differences are to ``model``.

    ``model``: closed form of the centreline; ``handbook``: (N_b + 1) d plus the hook lengths;
    ``solid``: exact bounding box of the solid less the wire beyond the contact points (2 d for
    two hooks), None before a solid is built; ``full_loops``: (2C − 1 + N_b) d where both ends
    are loops of the inside diameter.
    """

    model: float
    handbook: float
    handbook_difference: float
    full_loops: float | None
    solid: float | None = None
    solid_difference: float | None = None


class InitialTension(Part):
    """Force N; stress and preferred range MPa (uncorrected shear); None outside its validity."""

    force: float
    stress: float
    preferred_low: float | None
    preferred_high: float | None
    assumed: bool


class Convention(Part):
    """Active coils and rate, N/mm, by one convention of the trade."""

    active_coils: float
    rate: float


class StressRange(Part):
    """A preferred range of initial-tension stress, MPa, by one published form."""

    low: float | None
    middle: float
    high: float | None
    source: str


class StaticCheck(Part):
    """A standard's static check at the highest load: MPa."""

    standard: str
    stress: float
    allowable: float
    margin: float


class Stresses(Part):
    """Body shear, hook bending (the handbooks' point A), hook torsion (their B).

    MPa, or margins without unit; None where no hook carries the load.
    """

    body_shear: float | None
    hook_bending_a: float | None
    hook_torsion_b: float | None


class WorkingPoint(Part):
    """One load, or one length: N, mm by the load curve; MPa by the handbook.

    Margins are allowable/stress.

    ``governing`` is the key of the least margin, ``place`` the same with its end; ``hook_at_a``
    and ``hook_at_b`` are the keys of the end bent and twisted harder, ``*`` for both alike.
    """

    load: float
    length: float
    deflection: float
    body_shear: float
    hook_bending_a: float | None
    hook_torsion_b: float | None
    allowable: Stresses
    margin: Stresses
    governing: str
    place: Place | None
    hook_at_a: str | None
    hook_at_b: str | None


class WirePeak(Part):
    """The greatest stress of one kind in one region, per newton of load, and where it is.

    ``region`` is ``body``, ``A`` (loops), ``B`` (bends) or ``elsewhere``; ``kind`` is ``shear``
    (Tresca/2), ``axial`` or ``von_mises``; MPa/N; ``s`` in mm from the first end's cut; ``angle``
    in deg round the wire from the side of the centre of curvature. ``near`` is what the wire is
    like there: ``smooth``, ``joint``, ``short bend``, or ``beyond`` what was measured; there the
    stress was off finite elements by ``error_low`` to ``error_high`` per cent.
    """

    region: str
    kind: str
    per_newton: float
    label: str
    s: float
    angle: float
    near: str
    error_low: float
    error_high: float


class WirePoint(Part):
    """The same working point, with stress by the centreline's own statics: N, mm, MPa.

    ``verdict`` says what would fail first by this method alone; the summary's verdict weighs both.
    """

    load: float
    length: float
    deflection: float
    body_shear: float
    hook_bending_a: float | None
    hook_torsion_b: float | None
    von_mises: float
    margin: Stresses
    governing: str
    place: Place | None
    verdict: str


class AlongTheWire(Part):
    """Stress and rate from the centreline, beside the handbook's.

    ``compliance`` says what share of the deflection each piece gives, mm/N.
    """

    rate: float
    rate_difference_percent: float
    poisson: float
    compliance: dict[str, float]
    peaks: tuple[WirePeak, ...]
    points: tuple[WirePoint, ...]


class PullPlace(Part):
    """Where one place reaches its static allowable, and between which loads its wire yields."""

    allowable: Reached
    yield_from: Reached | None
    yield_to: Reached | None


class Pull(Part):
    """How far the spring may be pulled, by the handbook and along the wire: N, mm.

    ``travel_stop``: the length at which the first place of either way reaches its allowable, the
    furthest that a stop may let it go; ``place`` and ``way`` say which. ``first_yield``: where the
    first place begins to yield by the least published elastic limit, which may be before the stop;
    None where no limit is known. None of this is about cycles.
    """

    handbook: dict[str, PullPlace]
    along_the_wire: dict[str, PullPlace]
    travel_stop: float
    travel_stop_load: float
    place: Place
    way: Way
    first_yield: Reached | None
    first_yield_place: Place | None
    first_yield_way: Way | None
    yield_source: Text


class LifeStrength(Part):
    """A row of the repeated-load table at one place: MPa, and the Gerber factor of the cycle.

    ``repeated_strength`` S_r is the largest stress endured from zero, ``endurance`` the fully
    reversed strength S_e it amounts to by Gerber.
    """

    cycles: float
    repeated_strength: float
    endurance: float
    gerber: float | None


class FatiguePlace(Part):
    """One place under the cycle: MPa and safety factors (None where a rule does not apply).

    ``factor`` is the answer, by the one model that takes stress range, mean and life together;
    ``decides`` says what it comes from (gerber, goodman, static, spectrum, not known). The model's
    strengths at the cycles asked for: ``repeated_strength`` S_r from zero, ``life_gerber`` and
    ``life_goodman`` S_e fully reversed, ``ultimate`` and ``static_strength``. Beside it the books'
    own figures: ``endurance_gerber``, ``endurance_goodman``, ``gerber`` and ``goodman`` with
    Zimmerli's strengths for endless life, ``yielding`` along the load line, ``by_life`` the rows
    of the repeated-load table; ``life_table`` is S_r over the highest stress, within that table.
    ``damage`` is Miner's sum of a spectrum. For a spectrum, stresses are those of its worst range.
    """

    alternating: float
    mean: float
    endurance_gerber: float | None
    gerber: float | None
    goodman: float | None
    yielding: float | None
    life_table: float | None
    endurance_goodman: float | None = None
    repeated_strength: float | None = None
    life_gerber: float | None = None
    life_goodman: float | None = None
    ultimate: float
    static_strength: float
    by_life: tuple[LifeStrength, ...] = ()
    damage: float | None = None
    factor: float | None
    decides: str


class LoadRange(Part):
    """A range of load, N, and how often it comes; None: for ever."""

    load_low: float
    load_high: float
    count: float | None


class Fatigue(Part):
    """The cycle between the lowest and the highest load, by the handbook and along the wire.

    ``cycles`` are all cycles, None for endless; ``spectrum`` the ranges where several are given;
    ``life_class`` the life of the repeated-load table next above.
    ``governing`` is the key of the least factor and its method, ``place`` and ``way`` the same.
    """

    load_low: float
    load_high: float
    cycles: float | None
    spectrum: tuple[LoadRange, ...] = ()
    life_class: float | None
    method: Text
    handbook: dict[str, FatiguePlace]
    along_the_wire: dict[str, FatiguePlace]
    governing: str
    margin: float | None
    place: Place | None = None
    way: Way | None = None


class LoadPoint(Part):
    """One point of the load line: N, mm; ``tolerance_percent`` of the load, plus and minus."""

    load: float
    length: float
    tolerance_percent: float
    tolerance_source: str
    tolerance_known: str


class LoadLine(Part):
    """Load over length: the load curve, and the textbook's straight line beside it.

    ``handbook`` (straight; taken as rigid below the initial tension) and ``along_the_wire`` (the
    curve) start at the free length without load and at the initial tension; then the working
    points. ``curve`` is the whole of it, from the free length to the end of the stroke.
    """

    handbook: tuple[LoadPoint, ...]
    along_the_wire: tuple[LoadPoint, ...]
    rate_tolerance_percent: float
    rate_tolerance_known: str
    curve: tuple[CurvePoint, ...]


class Dynamics(Part):
    """Hz, N mm: frequencies hold only while the coils are apart."""

    natural_frequency_both_held: float
    natural_frequency_one_free: float
    stored_energy: float | None


class Verdict(Part):
    """Whether the spring holds its highest load, by the least margin of both methods.

    ``outcome`` is ``fails`` where a margin or the fatigue factor is below 1; ``not judged`` where
    something that must hold is not computed (``reasons``), whatever the margin; else ``holds``.
    ``words`` is the whole as one sentence.
    """

    outcome: Outcome
    load: float
    margin: float
    place: Place
    way: Way
    reasons: tuple[Text, ...]
    words: Text


class Check(Part):
    """One check on what was built."""

    name: str
    value: float
    bound: float
    unit: str
    ok: bool
    what: Text


class Summary(Part):
    """Everything known about one spring."""

    schema_version: str = SCHEMA
    name: str
    units: str = "mm, N, MPa, N/mm, kg, g/cm3, deg, degC"
    specification: dict[str, Any]
    # the file as its author wrote it, where there was one
    specification_text: str | None = None
    material: MaterialFacts
    temperature: TemperatureFacts
    geometry: GeometryFacts
    parts: tuple[FittedPart, ...] = ()
    free_length: FreeLength
    rate: float
    rates: Rates
    active_coils: float
    rate_conventions: dict[str, Convention]
    initial_tension: InitialTension
    initial_tension_ranges: tuple[StressRange, ...]
    static_check: StaticCheck | None
    points: tuple[WorkingPoint, ...]
    along_the_wire: AlongTheWire
    contact: CoilContacts | None
    pins: Pins
    lean: tuple[Lean, ...]
    verdict: Verdict | None
    pull: Pull
    overload: Overload | None = None
    fatigue: Fatigue | None
    load_line: LoadLine
    dynamics: Dynamics
    findings: tuple[Finding, ...]
    checks: tuple[Check, ...] = ()
    cautions: tuple[Text, ...] = CAUTIONS

    def json_text(self, indent: int | None = 2) -> str:
        """Return the summary as JSON, ASCII only, the same for the same spring."""
        return json.dumps(
            self.model_dump(mode="json"), indent=indent, ensure_ascii=True, allow_nan=False
        )

    def digest(self) -> str:
        """Return the first 16 hex digits of the SHA-256 of the JSON text without spaces."""
        return hashlib.sha256(self.json_text(None).encode()).hexdigest()[:16]

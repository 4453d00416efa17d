"""What was built."""

from __future__ import annotations

from pydantic import Field

from springgeo.results.facts import Facts


class GeometryFacts(Facts):
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
    hook_length_first: float
    hook_length_second: float
    loop_angle: float | None
    free_length: float
    # the same along the axis: less where contacts stand out of line
    height: float
    overall_length: float
    wire_length: float
    mass: float
    loop_radius_first: float | None
    loop_radius_second: float | None
    bend_radius_first: float | None
    bend_radius_second: float | None
    opening_first: float | None
    opening_second: float | None
    # the narrowest way past the cut end of a hook, true to 0.01 d
    mouth_first: float | None = None
    mouth_second: float | None = None


class FittedPart(Facts):
    """A solid that an end holds beside the wire: name, volume, mm³, sizes as built, mm."""

    name: str
    volume: float
    sizes: dict[str, float] = Field(default_factory=dict)


class FreeLength(Facts):
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

"""What a deck says of itself in its comments: units, steps, and what it leaves out."""

from __future__ import annotations

from collections.abc import Iterator

from springgeo.elements import Deck
from springgeo.files.publish.exporter import ExportJob, data_text
from springgeo.text.json_value import Json

# a body whose pitch is above this, in wire diameters, stands open
_OPEN = 1.05
SHAPE = "** springgeo-shape: "


def heading(deck: Deck, job: ExportJob, kind: str) -> Iterator[str]:
    """Yield the heading and the comments of a deck of elements of a kind."""
    s, count = job.summary, len(deck.wire.elements)
    yield f"*HEADING\n{job.stem}: extension spring, {count} elements {kind}"
    words = [
        "Units: mm, N, MPa, t/mm3.",
        f"springgeo {job.stem} unit=mm summary={s.digest()}",
        f"Wire {deck.wire.diameter:.6g} mm, {plain(s.material.title)}: "
        f"E {deck.elastic:.6g}, Poisson {deck.poisson:.4g}.",
        "The wire is the spring as drawn, free of stress; the pull is the straight one, by which",
        "springs are made and measured.",
    ]
    if deck.turned:
        words.append("Turned about the first point of pull, so that the pull is along +z.")
    words += [
        f"Step 1: linear, {deck.small:.6g} N. The rate is load / U3 of SECOND_PULL; along the wire",
        f"it is {s.along_the_wire.rate:.6g} N/mm (small loads, coils apart, ends free to turn).",
        f"Step 2: NLGEOM, up to {deck.load:.6g} N.",
        "FIRST_PULL is held, SECOND_PULL pulled along +z and kept on its line; each is free",
        "to turn as its end is.",
        *_grips(deck, job),
        *_contact(job),
        *_stress(deck),
        *s.cautions,
    ]
    yield "\n".join(f"** {w}" for w in words)
    yield f"{SHAPE}{data_text(facts(deck, job))}"


def plain(text: str) -> str:
    """Return a text in ASCII."""
    return text.encode("ascii", "replace").decode("ascii")


def facts(deck: Deck, job: ExportJob) -> dict[str, Json]:
    """Return what the deck says of its shape, to be checked by a reader: mm, mm³."""
    low, high = deck.solids.min(axis=0), deck.solids.max(axis=0)
    return job.shape_facts(deck.volume, [low.tolist(), high.tolist()])


def _grips(deck: Deck, job: ExportJob) -> list[str]:
    words = []
    if any(g.weights is not None for g in deck.grips):
        words += [
            "The pull on a hook acts through the middle of the wire: the point moves as the mean",
            "of its section. Within a wire diameter of it the stress is not that of a pin.",
        ]
    if any(g.weights is None for g in deck.grips):
        words += [
            "Wire in the grip of a fitting or of a vice is a rigid body; next to it the stress is",
            "not that of the fitting.",
        ]
    meshed = [f.name for f in deck.fittings]
    if meshed:
        words += [
            f"Of steel (FITTING), its seat tied to the wire that it holds: {', '.join(meshed)}.",
            "Its stud is rigid from the collar on, as screwed in. Threads are not meshed: stress",
            "in their roots and at the step to the collar is not told.",
        ]
    rigid = [part.name for part in job.geometry.parts if part.name not in meshed]
    if rigid:
        words.append(f"Not meshed, and taken as rigid: {', '.join(rigid)}.")
    return words


def _contact(job: ExportJob) -> list[str]:
    s, tension = job.summary, float(job.summary.initial_tension.force)
    if job.geometry.pitch > _OPEN * job.geometry.wire_diameter and not tension:
        return ["The coils stand apart: no contact is defined."]
    words = [
        "No contact of coils and no initial tension is defined. Coils stand apart by a hair as",
        "drawn, and pass through each other where a pull from the side closes them.",
    ]
    if tension:
        k = float(s.along_the_wire.rate)
        words += [
            f"The spring is wound with an initial tension of {tension:.6g} N. Once its coils have",
            "parted, its wire bears the whole load, as here: stress and rate are its own.",
            f"It is shorter than here, by about {tension:.6g} N / {k:.6g} N/mm =",
            f"{tension / k:.5g} mm. Below {tension:.6g} N this deck does not describe it.",
        ]
    return words


def _stress(deck: Deck) -> list[str]:
    if deck.wire.kind == "beams":
        return [
            "B32R: the solver makes a solid of a beam, a round section with eight nodes and 2 x 2",
            "points; the rate comes out some 2 % low. For stress take hexahedra.",
        ]
    words = [
        "Read stress at the integration points (*EL PRINT): what is extrapolated to nodes",
        "overshoots on curved elements.",
    ]
    if deck.wire.kind == "hex8":
        words.append("C3D8I, its rim a polygon of the wire's own area: for a first look.")
    return words

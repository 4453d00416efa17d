"""The data of the 3-D view: rings along the one centreline in every state, stress, parts."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from springgeo import colours
from springgeo.computed import ComputedSpring
from springgeo.curve import Path
from springgeo.curve.frame import Array
from springgeo.mesh import frames, stations
from springgeo.mesh.density import density
from springgeo.plots.points import marks
from springgeo.report.paint import KINDS, STRESSES, corners, paint
from springgeo.report.parts import base64_of, extent, fittings, parts
from springgeo.report.stroke import Stroke
from springgeo.state import State
from springgeo.statics import WireStress
from springgeo.text.json_value import Json
from springgeo.text.naming import piece_words
from springgeo.text.shown import PLAIN, Shown

# corners of a ring, and the distance, in wire diameters, of a drawn facet from the true wire
AROUND = 20
CHORD = 0.02
# rings times states: beyond this the facets grow instead of the file
MOST_RINGS = 45_000


def view_data(
    spring: ComputedSpring,
    stroke: Stroke,
    shown: Shown = PLAIN,
    chord: float = CHORD,
    around: int = AROUND,
    share: float = 1.0,
) -> dict[str, Json]:
    """Return what the page's script draws from, ready for JSON.

    Parameters
    ----------
    spring : Spring
    stroke : Stroke
    shown : Shown
        The reader's language, for names.
    chord : float
        How far a facet may lie off the wire, in wire diameters.
    around : int
        Corners of a ring.
    share : float
        Of the rings that ``chord`` asks for: with fewer, facets lie further off as its square.

    Returns
    -------
    dict
        ``rings``: base64 of 16-bit integers ``(states, n, 9)``: middle of the ring, over
        ``low`` and ``span``, then two unit vectors across the wire over 32767. Rings keep to
        their place in the wire, so that states can be mixed. ``stress``: greatest round each
        ring, MPa, ``(states, n)``; ``use``: the same as a share of the allowable; ``corners``:
        how that is spread round the ring at the end of the stroke, in 255ths of the ring's.
    """
    free, wires = stroke.states[0], [x.wire.at(x.load) for x in stroke.states]
    last = wires[-1]
    # on the way to the last state the peaks go from where a small load has them
    ways = [spring.along_the_wire.unit, last] if len(wires) > 1 else [last]
    s = rings_at(spring.centreline, free.geometry.wire_diameter, ways, len(wires), chord, share)
    cast = [_frames(state, s / free.centreline.length) for state in stroke.states]
    centre = np.stack([c[0] for c in cast])
    low = centre.min(axis=(0, 1))
    span = np.maximum(np.ptp(centre, axis=(0, 1)), 1e-9)
    whole = np.concatenate(
        [
            (centre - low) / span * 65535 - 32768,
            *(32767 * np.stack([c[i] for c in cast]) for i in (1, 2)),
        ],
        axis=2,
    )
    book = spring.along_the_wire.book
    m = book.material
    nu = m.elastic_modulus / (2 * m.shear_modulus) - 1
    allowable = book.allowable
    painted = [paint(w, s, allowable) for w in wires]
    spread = corners(last, spring.centreline, free.geometry.wire_diameter, nu, s, around, allowable)
    mates = parts(stroke.states, spring.spec.mating)
    held = [p.box for state in stroke.states for p in state.geometry.parts]
    wire = np.stack(
        [low - free.geometry.wire_diameter / 2, low + span + free.geometry.wire_diameter / 2]
    )
    boxes = np.stack([wire, *held, *map(np.stack, map(extent, mates))])
    return {
        "around": around,
        "radius": free.geometry.wire_diameter / 2,
        "states": [x.length for x in stroke.states],
        "loads": [x.load for x in stroke.states],
        "low": _short(low),
        "span": _short(span),
        "rings": base64_of(np.rint(whole).astype("<i2")),
        "stress": {k: _of_states([p.greatest[k] for p in painted]) for k in STRESSES},
        "use": {k: _of_states([p.use[k] for p in painted]) for k in KINDS},
        "corners": {k: base64_of(np.rint(255 * v).astype("u1")) for k, v in spread.items()},
        "kinds": KINDS,
        "words": colours.WORDS,
        "near": colours.NEAR,
        "arc": base64_of(s.astype("<f4")),
        "piece": base64_of(free.centreline.find(s).astype("u1")),
        "labels": [shown.text(piece_words(p.label)) for p in free.centreline.pieces],
        "ramp": {"top": colours.TOP, "colours": "".join(c[1:] for c in colours.ramp())},
        "load": stroke.load,
        "stops": [
            {"name": shown.text(p.name), "load": p.load, "length": p.length} for p in stroke.stops
        ],
        "marks": [
            {
                "name": shown.text(m.words),
                "ring": int(np.argmin(np.abs(s - m.s))),
                "end": m.side.upper(),
            }
            for m in marks(last)
        ],
        "parts": mates,
        "fittings": fittings(stroke.states),
        "contacts": [_short(np.concatenate(x.geometry.contacts)) for x in stroke.states],
        "box": [_short(boxes[:, 0].min(axis=0)), _short(boxes[:, 1].max(axis=0))],
    }


def rings_at(
    path: Path,
    wire_diameter: float,
    wires: Sequence[WireStress],
    states: int,
    chord: float = CHORD,
    share: float = 1.0,
) -> Array:
    """Return the arc lengths of the rings, mm: as many as the curvature asks for, and all peaks.

    ``chord`` is in wire diameters; ``share`` of the rings that it asks for are given.
    """
    chord = chord * wire_diameter
    while True:
        plan = density(path, wire_diameter / 2, chord)
        s = stations(path, replace(plan, steps=tuple(math.ceil(share * n) for n in plan.steps)))
        if len(s) * states <= MOST_RINGS or chord >= 0.4 * wire_diameter:
            break
        chord *= 1.3
    peaks = [
        p.s
        for w in wires
        for found in w.peaks.values()
        for p in (found.axial, found.shear, found.von_mises)
    ]
    ends = wires[0].s[0], wires[0].s[-1]
    wanted = np.array([*peaks, *(m.s for w in wires for m in marks(w)), *ends])
    every = np.unique(np.concatenate([s, wanted]))
    # two rings in one place would leave a facet without area
    apart = np.concatenate([[True], np.diff(every) > 1e-6 * wire_diameter])
    kept: Array = every[apart]
    return kept


def _frames(state: State, share: Array) -> tuple[Array, Array, Array]:
    return frames(state.centreline, share * state.centreline.length)


def _of_states(fields: Sequence[Array]) -> str:
    return base64_of(np.stack(fields).astype("<f4"))


def _short(values: Sequence[float] | Array) -> list[float]:
    return [float(f"{float(x):.9g}") for x in values]

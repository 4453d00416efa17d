"""Every end style of wire by finite elements, beside the stress along the wire; worst first.

Run ``python gallery/finite_elements_styles.py`` (a few minutes), or name styles. Each end and the
first coils of the body are solved by ``bent_bar.py``; 0.8 d next to the contact of a hook is left
out, and 2.25 d next to a cut end that is gripped: a plain one, pulled along the axis, and a
straight one. The last column says how far the answer is off at the very place where the elements
find their greatest stress: they are read within 0.002 d of a joint, the answer at the joint.
"""

from __future__ import annotations

import argparse
import time

import numpy as np
from bent_bar import Array, Section, solve

from springgeo import Spring
from springgeo.ends import registry
from springgeo.summary.handbook import Handbook
from springgeo.summary.wire import AlongWire, contacts_of

INDICES, DIAMETER = (5.0, 9.0), 2.0
# wire diameters
NEXT_TO_CONTACT, NEXT_TO_GRIP, INTO_BODY, TO_CUT = 0.8, 2.25, 6.0, 2.0
FINE = 0.02  # length of the elements at joints
BOUND = 0.5  # per cent


def spring_of(style: str, index: float) -> Spring:
    """Return a short open spring with two ends of the style."""
    return Spring.from_dict(
        {
            "name": f"{style}, index {index:g}",
            "wire": {
                "material": "astm-a228",
                "diameter": DIAMETER,
                "elastic_modulus": 206000.0,
                "shear_modulus": 206000.0 / 2.6,
            },
            "body": {"index": index, "coils": 4.25, "gap": 0.1},
            "ends": {"first": {"style": style}, "second": {"style": style}},
            "service": {"loads": [10.0]},
        }
    )


def kinds(stress: Array) -> dict[str, Array]:
    """Return the greatest stresses round the wire ``(n,)`` of components ``(n, around, 4)``."""
    axial, hoop, shear, _ = np.moveaxis(stress, 2, 0)
    mean, radius = (axial + hoop) / 2, np.hypot((axial - hoop) / 2, shear)
    fields = {
        "axial": np.abs(axial),
        "shear": np.maximum(radius, (np.abs(mean) + radius) / 2),
        "von_mises": np.sqrt(mean**2 + 3 * radius**2),
    }
    return {kind: field.max(axis=1) for kind, field in fields.items()}


def compare(spring: Spring, section: Section) -> list[tuple[str, str, str, float, float]]:
    """Return kind, piece by elements, piece along the wire, and errors in per cent."""
    geometry = spring.model.geometry
    path, d, contacts = geometry.path, geometry.wire_diameter, contacts_of(geometry)
    wire = AlongWire(Handbook(spring.model)).unit
    body = next(s for piece, s in path if piece.role == "body")
    cut, force = body + INTO_BODY * d, contacts.direction
    moment = np.cross(contacts.point_b - path.point(np.array([cut]))[0], force)
    found = solve(path, contacts.s_a, cut, d, [(force, moment)], section, FINE)
    gripped = geometry.contact_s[0] is None
    low = contacts.s_a + (NEXT_TO_GRIP if gripped else NEXT_TO_CONTACT) * d
    high = cut - TO_CUT * d
    seen, ours = (np.flatnonzero((s > low) & (s < high)) for s in (found.s, wire.s))
    out = []
    for kind, value in kinds(found.stress[0]).items():
        along = getattr(wire.stress, kind)
        i, j = seen[np.argmax(value[seen])], ours[np.argmax(along[ours])]
        there = np.interp(found.s[i], wire.s, along)
        piece = path.pieces[int(path.find(found.s[i : i + 1])[0])].label
        errors = (float(100 * (x / value[i] - 1)) for x in (along[j], there))
        out.append((kind, piece, wire.labels[wire.index[j]], *errors))
    return out


def main() -> None:
    """Solve, print the table and check the greatest error."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("styles", nargs="*", help="end styles; all of wire if left out")
    names = parser.parse_args().styles or sorted(registry.styles())
    section, rows, start = Section(), [], time.perf_counter()
    for name in names:
        for index in INDICES:
            spring = spring_of(name, index)
            if spring.model.geometry.parts:
                break  # a fitted end holds a part: its wire is the body's
            rows += [(name, index, *row) for row in compare(spring, section)]
    rows.sort(key=lambda row: -abs(row[5]))
    print("| style | C | stress | by elements in | along the wire in | error, % | there, % |")
    print("|---|---|---|---|---|---|---|")
    for name, index, kind, theirs, ours, error, there in rows:
        print(f"| {name} | {index:g} | {kind} | {theirs} | {ours} | {error:+.2f} | {there:+.2f} |")
    print(f"{len(rows)} peaks, {time.perf_counter() - start:.0f} s")
    worst = max(abs(row[5]) for row in rows)
    assert worst < BOUND, f"an error of {worst:.2f} %"


if __name__ == "__main__":
    main()

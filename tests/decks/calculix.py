"""Decks run unchanged by CalculiX, beside the answers along the wire and of the load curve.

``python -m tests.decks.calculix`` (some minutes; needs ``ccx``), or name cases. Prints rate, peaks
of the linear step and, of springs without initial tension, length and peaks of the non-linear one.
"""

from __future__ import annotations

import argparse
import tempfile
import time
from pathlib import Path

from springgeo import Spring
from springgeo.elements import Elements, MeshedWire
from springgeo.summary.wire import contacts_of
from tests.decks import solved

E = 206000.0
# per cent
RATE, PEAK = 0.1, 1.0
# what decides where, and von Mises
KINDS = {
    "body": ["shear", "von_mises"],
    "A": ["axial", "shear", "von_mises"],
    "B": ["shear", "von_mises"],
}


def _spring(first: str, second: str, index: float, coils: float, load: float, **body) -> Spring:
    wire = {"material": "astm-a228", "diameter": 2.0, "elastic_modulus": E}
    wire["shear_modulus"] = E / 2.6
    ends = {"first": {"style": first}, "second": {"style": second}}
    body = {"index": index, "coils": coils, **(body or {"gap": 0.1})}
    service = {"loads": [load]}
    return Spring.from_dict(
        {"name": "case", "wire": wire, "body": body, "ends": ends, "service": service}
    )


GAP, TIGHT = {"gap": 0.1}, {"initial_tension": 40}
CASES = {
    "half loops": ("machine-half-loop", "machine-half-loop", 5.0, 2.0, 150.0, GAP),
    "loops at side": ("full-loop-at-side", "full-loop-at-side", 6.0, 2.0, 60.0, {"gap": 0.5}),
    "plug": ("threaded-plug", "machine-half-loop", 5.0, 2.0, 150.0, {}),
    "full and extended": ("full-twisted-loop", "extended-hook", 7.0, 2.0, 110.0, GAP),
    "raised, left hand": ("raised-hook", "raised-hook", 6.0, 2.0, 120.0, GAP | {"hand": "left"}),
    "swivels": ("coned-swivel-eye", "coned-swivel-eye", 6.0, 8.0, 120.0, {}),
    "plain": ("plain", "plain", 6.0, 2.0, 120.0, GAP),
    "v and English": ("v-hook", "english-loop", 6.0, 2.0, 120.0, GAP),
    "wound tight": ("machine-half-loop", "raised-hook", 6.0, 2.0, 120.0, TIGHT),
}


def compare(name: str, size: float | None, folder: Path) -> list[tuple[str, float, float]]:
    """Return rows: what, ours, by elements."""
    *rest, body = CASES[name]
    spring = _spring(*rest, **body)
    choice = Elements("hex20", size)
    deck = next(
        f for f in spring.export(folder, formats=["inp"], elements=choice) if f.suffix == ".inp"
    )
    linear, bent = solved.solve(deck)
    g, load = spring.model.geometry, rest[-1]
    wire = MeshedWire.of(g, choice)
    along, curve = spring.along_the_wire, spring.load_curve
    contacts = contacts_of(g)
    span = contacts.s_a, contacts.s_b
    small = load / 100
    # coils that press have no small loads apart; ends that are held bear a force aside as well
    wound = bool(curve.pressing)
    rate = along.rate if wound else small / (curve.length(small) - curve.free_length)
    rows = [("rate", rate, small / linear.moved[2])]
    little = along.unit.scaled(small) if wound else along.at(small)
    rows += _rows("", little, solved.peaks(wire, linear.stress, span), KINDS)
    beyond = curve.length(load) - curve.free_length
    if wound:  # as the deck says: shorter by about the initial tension over the rate
        rows.append(("extension", beyond, bent.moved[2] - curve.initial_tension / along.rate))
    else:
        rows.append(("extension", beyond, bent.moved[2]))
    # the axial stress of the bent wire is along another tangent than the drawn one
    bent_kinds = {region: [k for k in kinds if k != "axial"] for region, kinds in KINDS.items()}
    rows += _rows("bent, ", along.at(load), solved.peaks(wire, bent.stress, span), bent_kinds)
    return rows


def _rows(prefix, ours, theirs, kinds) -> list[tuple[str, float, float]]:
    return [
        (f"{prefix}{region}, {kind}", getattr(ours.peaks[region], kind).value, theirs[region][kind])
        for region, wanted in kinds.items()
        if region in theirs and region in ours.peaks
        for kind in wanted
    ]


def main() -> None:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("cases", nargs="*", help=f"of: {', '.join(CASES)}")
    parser.add_argument("--size", type=float, help="element size, mm; the wire has 2 mm")
    parser.add_argument("--keep", type=Path, help="folder for decks and answers")
    o = parser.parse_args()
    if solved.program() is None:
        raise SystemExit(f"skipped: {solved.MISSING}")
    for name in o.cases or CASES:
        start = time.perf_counter()
        with tempfile.TemporaryDirectory() as folder:
            rows = compare(name, o.size, o.keep or Path(folder))
        print(f"\n{name} ({time.perf_counter() - start:.0f} s)")
        for what, ours, theirs in rows:
            print(
                f"  {what:24} {ours:12.5g} {theirs:12.5g} {100 * (ours / theirs - 1):+7.3f} %",
                flush=True,
            )


if __name__ == "__main__":
    main()

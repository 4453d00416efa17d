"""Repeated load and frequencies."""

from __future__ import annotations

from collections.abc import Iterator

from springgeo.note.figures import diagram
from springgeo.note.model import Block, Heading, Table, Text
from springgeo.note.sections.written import Written
from springgeo.plots.fatigue import chart as fatigue_chart
from springgeo.plots.fatigue import has_limits
from springgeo.text import quantity as q


def cycle(w: Written) -> Iterator[Block]:
    """Yield the fatigue check."""
    shown, f = w.shown, w.s.fatigue
    if f is None:
        return
    yield Heading(shown.say("Fatigue"))
    yield Text(
        shown.say(
            "{low} to {high}: {method}.",
            low=q.force(f.load_low),
            high=q.force(f.load_high),
            method=f.method,
        )
    )
    way = ("mounted_" if f.as_mounted else "") + "handbook"
    if f.way == "along the wire":
        way = "mounted" if f.as_mounted else "along_the_wire"
    worst = min(
        (k for k, p in getattr(f, way).items() if p.factor is not None),
        key=lambda k: getattr(f, way)[k].factor,
        default=None,
    )
    # of the loads told above
    by_book = "mounted_handbook" if f.as_mounted and f.mounted_handbook else "handbook"
    if worst is not None and not f.spectrum:
        yield w.steps.formulas(f"fatigue.{by_book}.{worst}.factor")
    rows = []
    for name, places in (
        (shown.say("handbook"), f.handbook),
        (shown.say("along the wire"), f.along_the_wire),
        (shown.say("handbook, as mounted"), f.mounted_handbook),
        (shown.say("along the wire, as mounted"), f.mounted),
    ):
        for key, p in places.items():
            strength, factor = p.repeated_strength, p.factor
            rows.append(
                (
                    w.place(key),
                    name,
                    shown.value(q.stress(p.alternating, places=0)),
                    shown.value(q.stress(p.mean, places=0)),
                    "–" if strength is None else shown.value(q.stress(strength, places=0)),
                    "–" if factor is None else shown.value(q.number(factor, places=2)),
                )
            )
    unit = shown.unit("stress")
    head = (
        shown.say("place"),
        shown.say("way"),
        f"{shown.say('alternating')} {unit}",
        f"{shown.say('mean')} {unit}",
        f"{shown.say('endured from zero')} {unit}",
        shown.say("factor"),
    )
    yield Table(head, tuple(rows), words=(1,))
    for bending in (False, True):
        if has_limits(w.s, bending):
            chart = fatigue_chart(w.s, bending)
            yield diagram(chart, shown.text(chart.title), shown, 0.6)


def dynamics(w: Written) -> Iterator[Block]:
    """Yield natural frequency and stored energy."""
    shown, d = w.shown, w.s.dynamics
    yield Heading(shown.say("Vibration and stored energy"))
    yield w.steps.formulas("dynamics.natural_frequency_both_held")
    if d.stored_energy is not None:
        yield Text(
            shown.say(
                "If an end lets go at the highest load, {energy} are released at once.",
                energy=q.Quantity("energy", d.stored_energy, 3),
            )
        )

"""The figures of the theory pages, each computed by the code that the page is about."""

from __future__ import annotations

import numpy as np

import springgeo as sg
from springgeo.chart import Area, Axis, Chart, Dots, Item, Label, Line, Marks, Rule
from springgeo.chart.element import element, escaped
from springgeo.chart.style import series
from springgeo.colours import INKS, WIRE
from springgeo.curve.frame import Array
from springgeo.equilibrium.load_curve import LoadCurve
from springgeo.mechanics import life
from springgeo.note.figures import diagram
from springgeo.picture.parts import View
from springgeo.picture.svg import spring_svg
from springgeo.plots.fatigue import limit
from springgeo.sizing.job.job import job_of
from springgeo.sizing.search.search import search
from springgeo.text.shown import Shown

_ROLES = {"body": "measure", "bend": "shear", "straight": "good", "loop": "bending"}
_LETTER = 15


def theory_figures(spring: sg.Spring, shown: Shown) -> dict[str, str]:
    """Return them as SVG by their file's name; ``spring`` has loads and a cycle."""
    charts = {
        "developed": developed(),
        "cell": cell(),
        "parting": parting(spring.load_curve),
        "knee": knee(spring.load_curve),
        "fatigue-bounds": fatigue_bounds(spring),
        "sizing-front": sizing_front(),
    }
    found = {f"{name}.svg": diagram(chart, "", shown).svg for name, chart in charts.items()}
    return found | {"put-together.svg": put_together(shown)}


def hooked() -> sg.Spring:
    """Return a short body with a half loop that has a bend, a knuckle, a leg and a loop."""
    hook = {"style": "machine-half-loop", "hook_length": 17.0, "loop_radius": 5.4, "opening": 6.0}
    return sg.Spring.from_dict(
        {
            "wire": {"material": "astm-a228", "diameter": 2.0},
            "body": {"index": 7.0, "coils": 2.75},
            "ends": {"first": hook, "second": {"style": "plain"}},
        }
    )


def put_together(shown: Shown) -> str:
    """Return a hook with its pieces in colours, joints, radii, hook length and opening."""
    spring = hooked()
    g, d, path = spring.model.geometry, 2.0, spring.centreline
    roles = [p.role for p, _ in path]
    starts = np.array([s for _, s in path])

    def paint(s: Array) -> list[str]:
        found = np.searchsorted(starts, s, side="right") - 1
        return [INKS[_ROLES[roles[max(i, 0)]]].light for i in found]

    def over(view: View) -> str:
        first = [(p, s) for p, s in path if p.label.startswith("first.")]
        made = []
        for p, s in first:
            at = path.point(s + p.segment.length * (0.25 if p.role == "loop" else 0.5) * ONE)
            made += _piece(view, at[0], _named(p.label, p.role))
        for s in [*(s for _, s in first[1:]), starts[len(first)]]:
            made += _joint(view, path.point(np.array([s]))[0], path.tangent(np.array([s]))[0], d)
        end = g.first
        assert end.loop_radius is not None
        assert end.opening is not None
        centre = np.array([0.0, 0.0, end.loop_radius - d / 2])
        top = np.array([0.0, 0.0, -d / 2])
        made += _radius(view, centre, top, "r1")
        high = g.coil_radius + 1.7 * d
        made += _between(view, 0.0, end.hook_length, high, f"LH = {shown.length(end.hook_length)}")
        cut = end.hook_length - end.opening
        made += _between(view, cut, end.hook_length, -high, f"m = {shown.length(end.opening)}")
        made += _axis(view, d)
        return element("g", *made, font_family="Georgia, serif", font_size=_LETTER, fill=WIRE.edge)

    return spring_svg(
        path,
        d,
        width=540,
        turn=0.0,
        title="a hook put together",
        paint=paint,
        edge=3.7 * d,
        over=over,
    )


ONE = np.ones(1)


def _named(label: str, role: str) -> str:
    name = label.partition(".")[2]
    return {"bend": f"{name}: r2, on the cylinder", "knuckle": f"{name}: r2, in the plane"}.get(
        name, f"{name}: r1" if role == "loop" else name
    )


def _piece(view: View, at: Array, text: str) -> list[str]:
    (u, v), (_, axis) = view.paper(np.array([at, [0.0, 0.0, at[2]]]))
    up = -1 if v < axis else 1
    aside, anchor = (-34, "end") if "loop" in text else (8, "start")
    x, y = u + aside, v + up * (78 if "bend" in text else 48 if ":" in text else 32)
    line = element("path", d=f"M{u:.1f} {v:.1f}L{x:.1f} {y:.1f}", stroke=WIRE.edge, fill="none")
    dot = element("circle", cx=u, cy=v, r=3, fill=WIRE.edge)
    return [line, dot, _words(x + aside / 6, y + 5, text, anchor)]


def _joint(view: View, at: Array, tangent: Array, d: float) -> list[str]:
    """Return a cut across the wire where two pieces meet, and their common tangent."""
    (u, v), (a, b) = view.paper(np.array([at, at + 1.6 * d * tangent]))
    ring = {"r": 5, "fill": INKS["card"].light, "stroke": WIRE.edge, "stroke_width": 2}
    arrow = element("path", d=f"M{u:.1f} {v:.1f}L{a:.1f} {b:.1f}", stroke=WIRE.edge, stroke_width=2)
    return [arrow, element("circle", cx=u, cy=v, **ring)]


def _radius(view: View, centre: Array, end: Array, text: str) -> list[str]:
    (u, v), (a, b) = view.paper(np.array([centre, end]))
    line = element(
        "path", d=f"M{u:.1f} {v:.1f}L{a:.1f} {b:.1f}", stroke=WIRE.edge, stroke_width=1.4
    )
    cross = f"M{u - 6:.1f} {v:.1f}h12M{u:.1f} {v - 6:.1f}v12"
    mark = element("path", d=cross, stroke=WIRE.edge, stroke_width=1.8)
    return [line, mark, _words((u + a) / 2, v - 7, text, "middle")]


def _between(view: View, start: float, end: float, x: float, text: str) -> list[str]:
    (u1, v), (u2, _) = view.paper(np.array([[x, 0.0, start], [x, 0.0, end]]))
    _, middle = view.paper(np.array([[0.0, 0.0, start]]))[0]
    ends = "".join(f"M{u:.1f} {v + (6 if v > middle else -6):.1f}V{middle:.1f}" for u in (u1, u2))
    thin = {"stroke": INKS["measure"].light, "fill": "none"}
    line = element("path", d=f"M{u1:.1f} {v:.1f}H{u2:.1f}{ends}", **thin)
    return [line, _words((u1 + u2) / 2, v + (18 if v > middle else -8), text, "middle")]


def _axis(view: View, d: float) -> list[str]:
    (u1, v), (u2, _) = view.paper(np.array([[0.0, 0.0, -2.5 * d], [0.0, 0.0, 16 * d]]))
    dash = {"stroke": INKS["measure"].light, "stroke_dasharray": "10 4 2 4"}
    return [element("path", d=f"M{u1:.1f} {v:.1f}H{u2:.1f}", **dash)]


def _words(x: float, y: float, text: str, anchor: str) -> str:
    halo = {"paint_order": "stroke", "stroke": INKS["card"].light, "stroke_width": 4}
    return element("text", escaped(text), x=f"{x:.1f}", y=f"{y:.1f}", text_anchor=anchor, **halo)


def developed() -> Chart:
    """Return the coil's end and the bend, unrolled from the cylinder they lie on."""
    path = hooked().centreline
    bend, start = next((p, s) for p, s in path if p.label == "first.bend")
    # the cut end comes first: the wire is followed backwards, out of the body
    s = start + bend.segment.length * np.linspace(1.0, 0.0, 80)
    coil = start + bend.segment.length + np.linspace(7.0, 0.0, 40)
    joint = path.point(np.array([start + bend.segment.length]))[0]

    def unrolled(at: Array) -> list[tuple[float, float]]:
        points = path.point(at)
        radius = float(np.hypot(joint[0], joint[1]))
        turned = np.unwrap(np.arctan2(points[:, 1], points[:, 0]))
        turned -= np.arctan2(joint[1], joint[0])
        turned -= 2 * np.pi * np.round(turned[0 if at is s else -1] / (2 * np.pi))
        return list(
            zip((radius * turned).tolist(), (joint[2] - points[:, 2]).tolist(), strict=True)
        )

    wire, up = unrolled(coil), unrolled(s)
    sign = 1.0 if up[-1][0] > 0 else -1.0
    wire, up = ([(sign * x, z) for x, z in part] for part in (wire, up))
    top = up[-1]
    lead = float(np.arctan2(wire[-1][1] - wire[0][1], wire[-1][0] - wire[0][0]))
    centre = (-4.0 * np.sin(lead), 4.0 * np.cos(lead))
    return Chart(
        x=Axis(-7.5, 8.5, "round the coil, R times the azimuth", kind="length"),
        y=Axis(-1.2, 6.0, "along the axis", kind="length"),
        title="The bend on the cylinder, unrolled",
        items=(
            Line(wire, "handbook", "last coil, rising by its lead angle"),
            Line(up, "wire", "bend: a circle of radius r2 here"),
            Line((centre, (0.0, 0.0)), "thin"),
            Line((centre, top), "thin"),
            Marks((centre,), "point", "centre of the circle", "cross"),
            Marks(((0.0, 0.0), top), "hollow", "joints"),
            Label(0.0, 0.0, "P"),
            Label(top[0], top[1], "parallel to the axis from here"),
        ),
        name="developed",
    )


def cell() -> Chart:
    """Return the strain over a cell, at its Gauss points, and of the two arcs it is drawn as."""
    from springgeo.equilibrium.cell import Strain

    strain = Strain(np.array([[1.0, 0.0, 0.0]]), np.array([[0.18, 0.0, 0.0]]))
    low, high = (float(x[0, 0]) for x in strain.points)
    first, last = (float(x[0, 0]) for x in strain.halves)
    at = 0.5 - 0.5 / np.sqrt(3.0)
    rise = (high - low) / (1 - 2 * at)
    line = ((0.0, low - at * rise), (1.0, high + at * rise))
    return Chart(
        x=Axis(0.0, 1.0, "place in the cell, share of its length"),
        y=Axis(0.6, 1.4, "strain over its mean"),
        title="A cell of wire",
        items=(
            Line(line, "wire", "strain, linear"),
            Line(((0.0, first), (0.5, first)), "handbook", "the two arcs that make its shape"),
            Line(((0.5, last), (1.0, last)), "handbook"),
            Marks(((at, low), (1 - at, high)), "point", "Gauss points: the energy is summed here"),
            Label(at, low, "ω1"),
            Label(1 - at, high, "ω2"),
        ),
        name="cell",
    )


def parting(curve: LoadCurve) -> Chart:
    """Return what neighbouring coils still press with, along the body, at rising loads."""
    rod, tension = curve.balance.rod, curve.initial_tension
    turns = 32 if len(rod.pairs) else 1
    lines: list[Item] = []
    for i, share in enumerate((0.5, 0.9, 1.0, 1.05, 1.1)):
        shape = curve.solve(share * tension).shape
        gap = np.asarray(rod.pairs.gaps(shape.R, shape.p)).reshape(-1)
        # the mean round a turn: a coil that leans has parted on one side only
        left = np.convolve(np.exp(-gap / rod.width), np.ones(turns) / turns, "valid")
        along = np.linspace(0.5 * turns / len(gap), 1 - 0.5 * turns / len(gap), len(left))
        points = list(zip(along[::4].tolist(), left[::4].tolist(), strict=True))
        lines.append(Line(points, series(i), f"{share:g} times the initial tension"))
    return Chart(
        x=Axis(0.0, 1.0, "place along the body, first end to second"),
        y=Axis(0.0, 1.1, "press of neighbouring coils, share of that at rest"),
        title="Coils part",
        items=tuple(lines),
        name="parting",
    )


def knee(curve: LoadCurve) -> Chart:
    """Return the load curve round the initial tension, and its straight part carried back."""
    tension = curve.initial_tension
    loads = tension * np.linspace(0.0, 1.6, 17)
    points = [(curve.length(float(x)), float(x)) for x in loads]
    (x1, y1), (x2, y2) = points[-3], points[-1]
    slope = (y2 - y1) / (x2 - x1)
    free = curve.free_length
    back = ((free, y2 - slope * (x2 - free)), (x2, y2))
    far = points[-1][0]
    return Chart(
        x=Axis(free - 0.05 * (far - free), far, "length inside hooks", kind="length"),
        y=Axis(0.0, 1.05 * y2, "load", kind="force"),
        title="The knee",
        items=(
            Line(back, "handbook", "straight part, carried back to the free length"),
            Line(points, "wire", "load curve"),
            Marks(((free, tension),), "point", "initial tension, as it is named"),
            Label(free, tension, "F_i"),
            Label(*points[5], "the hooks give"),
            Label(*points[-3], "all coils give"),
        ),
        name="knee",
    )


def fatigue_bounds(spring: sg.Spring) -> Chart:
    """Return the three bounds of hook bending, what they go through, and the working point."""
    cycle = spring.summary().fatigue
    assert cycle is not None
    place = cycle.along_the_wire["hook_bending"]
    S_u, S_y, S_r = place.ultimate, place.static_strength, place.repeated_strength
    assert S_r is not None
    assert place.life_gerber is not None
    assert place.life_goodman is not None
    assert place.factor is not None
    mean = np.linspace(0.0, S_u, 90)
    gerber = place.life_gerber * (1 - (mean / S_u) ** 2)
    goodman = place.life_goodman * (1 - mean / S_u)
    s_a, s_m, n = place.alternating, place.mean, place.factor
    edge, top = limit(place), 1.1 * place.life_goodman
    S_e = life.Lines(np.array(place.life_gerber), np.array(place.life_goodman))
    assert abs(float(life.allowed(n * s_m, S_e, S_u, S_y)) - n * s_a) < 1e-6 * S_u
    return Chart(
        x=Axis(0.0, 1.03 * S_u, "mean stress", kind="stress"),
        y=Axis(0.0, top, "alternating stress", kind="stress"),
        title="Hook bending: three bounds",
        items=(
            Area(((0.0, 0.0), *edge), "preferred", "all three kept"),
            Line(list(zip(mean.tolist(), gerber.tolist(), strict=True)), "limit-body", "Gerber"),
            Line(list(zip(mean.tolist(), goodman.tolist(), strict=True)), "limit-hook", "Goodman"),
            Line(
                ((S_y - top, top), (S_y, 0.0)), "allowed", "static: mean and alternating make S_y"
            ),
            Line(((0.0, 0.0), (1.15 * n * s_m, 1.15 * n * s_a)), "thin", "both stresses grow"),
            Marks(((S_r / 2, S_r / 2),), "point", "endured from zero: S_r", "diamond"),
            Marks(((s_m, s_a),), "point", "the cycle"),
            Marks(((n * s_m, n * s_a),), "hollow", f"{n:.3g} times the cycle: the first bound"),
            Rule(S_u, "stop", "S_u"),
        ),
        name="fatigue-bounds",
    )


def sizing_front() -> Chart:
    """Return the designs of one job: what can be had, and those that none beats."""
    found = search(
        job_of(
            {
                "name": "hatch return",
                "points": [
                    {"length": "60 mm", "load": "15 N", "tolerance": "5 %"},
                    {"length": "75 mm", "load": "30 N", "tolerance": "5 %"},
                ],
                "envelope": {"outer_diameter": "14 mm"},
                "choice": {"materials": ["astm-a228"], "ends": ["machine-half-loop"]},
                "objectives": ["mass", "margin", "envelope"],
            }
        )
    )
    mass, margin = 1000 * found.costs[:, 0], 1 / found.costs[:, 1]
    every = list(zip(mass.tolist(), margin.tolist(), strict=True))
    line, safest = [], 0.0
    for at in sorted(every):
        if at[1] > safest:
            line, safest = [*line, at], at[1]
    return Chart(
        x=Axis(0.9 * float(mass.min()), 1.03 * float(mass.max()), "mass of the wire, g"),
        y=Axis(0.98 * float(margin.min()), 1.02 * safest, "least margin over the one asked for"),
        title="The front of a job",
        items=(
            Dots(
                every, "series-6", "front of mass, margin and room: nothing beats it in all three"
            ),
            Line(line, "handbook", "nothing is lighter and safer"),
        ),
        name="sizing-front",
    )

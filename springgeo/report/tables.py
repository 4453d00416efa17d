"""The report's tables: every number an element that names its place in the summary."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from springgeo.findings import Finding
from springgeo.report.html import Markup, render
from springgeo.report.value import Values, united
from springgeo.results.place import KIND_WORDS, KINDS, Way
from springgeo.summary import Summary
from springgeo.summary.verdict import WAY_WORDS, way_words
from springgeo.text.naming import piece_words, subject
from springgeo.text.shown import DECIMAL, word

# the vocabulary of every output; the handbooks' letters stand in the caption alone
PLACES = {key: KIND_WORDS[kind] for key, kind in KINDS.items()}
SEVERITY = {"error": word("Error"), "warning": word("Warning"), "note": word("Note")}
_PATHS: dict[Way, str] = {"handbook": "handbook", "along the wire": "along_the_wire"}
# of a cycle as mounted
_THERE: dict[Way, str] = {"handbook": "mounted_handbook", "along the wire": "mounted"}


def table(
    caption: str, head: Sequence[str], rows: Iterable[Sequence[str]], words: Sequence[int] = ()
) -> Markup:
    """Return a table that scrolls sideways by itself where it must; a head breaks at newlines.

    ``words``: which columns beside the first hold text, and so stand to the left.
    """
    return render("table", caption=caption, head=head, rows=rows, words=words)


def key_facts(s: Summary, v: Values) -> Markup:
    """Return what the spring is, as a list of terms and values."""
    rows = [
        (v.say("wire diameter d"), v("geometry.wire_diameter", "length")),
        (v.say("mean diameter D"), v("geometry.mean_diameter", "length")),
        (
            v.say("outer / inner diameter"),
            v("geometry.outer_diameter", "length", bare=True)
            + " / "
            + v("geometry.inner_diameter", "length"),
        ),
        (v.say("index D/d"), v("geometry.index")),
        (v.say("body coils"), v("geometry.body_coils") + ", " + _hand(s, v)),
        (v.say("body length"), v("geometry.body_length", "length")),
        (
            v.say("hook lengths, first / second end"),
            v("geometry.hook_length_first", "length", bare=True)
            + " / "
            + v("geometry.hook_length_second", "length"),
        ),
        (v.say("free length inside hooks"), v("geometry.free_length", "length")),
        (v.say("overall length"), v("geometry.overall_length", "length")),
        (v.say("angle between loops"), v("geometry.loop_angle", "degrees", places=1)),
        (v.say("wire length"), v("geometry.wire_length", "length")),
        (v.say("mass"), v("geometry.mass", "mass")),
        (v.say("initial tension"), v("initial_tension.force", "force", 3)),
        (v.say("tensile strength, minimum"), v("material.tensile_strength", "stress")),
        (v.say("shear modulus"), v("material.shear_modulus", "stress")),
        (v.say("service temperature"), v("temperature.value", "temperature")),
        (
            v.say("natural frequency, both ends held"),
            v("dynamics.natural_frequency_both_held", "frequency", 3),
        ),
        (
            v.say("energy stored at the highest load"),
            v("dynamics.stored_energy", "energy", 3),
        ),
    ]
    return render("terms", rows=rows)


def _hand(s: Summary, v: Values) -> str:
    return v.say("right hand") if s.geometry.hand == "right" else v.say("left hand")


def points_table(s: Summary, v: Values) -> Markup:
    """Return the results of both ways for every working point, and those as mounted."""
    head = [
        f"{v.say('load')}\n{v.unit('force')}",
        v.say("way"),
        f"{v.say('length')}\n{v.unit('length')}",
    ]
    for words in PLACES.values():
        head += [f"{v.text(words)}\n{v.unit('stress')}", v.say("margin")]
    both = [
        (WAY_WORDS["handbook"], "points"),
        (WAY_WORDS["along the wire"], "along_the_wire.points"),
    ]
    every = [(words, f"{path}.{i}") for i in range(len(s.points)) for words, path in both]
    there = way_words("along the wire", as_mounted=True)
    every += [(there, f"mounted.{i}") for i in range(len(s.mounted))]
    rows = []
    for words, at in every:
        row = [v(f"{at}.load", "force", bare=True), v.text(words)]
        row.append(v(f"{at}.length", "length", places=2, bare=True))
        for name in PLACES:
            row.append(v(f"{at}.{name}", "stress", 3, bare=True))
            row.append(_margin(v, f"{at}.margin.{name}"))
        rows.append(row)
    caption = v.say(
        "Stress at the working points; margin is allowable over stress. Hook bending and hook "
        "torsion are the handbooks' points A and B, at the end where they are greater"
    )
    return table(caption, head, rows, words=(1,))


def _margin(v: Values, path: str) -> Markup:
    value = v.at(path)
    cell = v(path, places=2)
    low = value is not None and value < 1
    return Markup('<strong class="low">{} ✕</strong>').format(cell) if low else cell


def peaks_table(s: Summary, v: Values) -> Markup:
    """Return where the wire is stressed most, per newton, for every region."""
    kinds = ("shear", "axial", "von_mises")
    regions = {
        "body": v.say("body"),
        "A": v.say("loop"),
        "B": v.say("bend"),
        "elsewhere": v.say("straight wire"),
    }
    at = {
        (p.region, p.kind): f"along_the_wire.peaks.{i}"
        for i, p in enumerate(s.along_the_wire.peaks)
    }
    rows = [
        [
            words,
            *(
                cell
                for kind in kinds
                for cell in (
                    v(f"{at[name, kind]}.per_newton", "stress per load", 3, bare=True),
                    _piece(v, at[name, kind]),
                )
            ),
        ]
        for name, words in regions.items()
        if (name, "shear") in at
    ]
    head = [v.say("region")]
    per = v.say("{stress} per {force}", stress=v.unit("stress"), force=v.unit("force"))
    for words in (v.say("shear"), v.say("bending"), v.say("von Mises")):
        head += [f"{words}\n{per}", v.say("in, from the\nfirst end's cut")]
    caption = v.say("Greatest stress of each region, and where")
    if s.mounted:
        caption = v.say("Greatest stress of each region, and where, pulled straight")
    return table(caption, head, rows, words=(2, 4, 6))


def _piece(v: Values, path: str) -> Markup:
    where = v(f"{path}.s", "length", places=1)
    return Markup("{}, {}").format(v.text(piece_words(v.at(f"{path}.label"))), where)


def ways_table(s: Summary, v: Values) -> Markup:
    """Return free length and rate by every way at hand."""
    rows = [
        [v.say("free length, model"), v("free_length.model", "length", places=3)],
        [
            v.say("free length, handbook (N + 1) d and hooks"),
            v("free_length.handbook", "length", places=3),
        ],
    ]
    if s.free_length.full_loops is not None:
        loops = v("free_length.full_loops", "length", places=3)
        rows.append([v.say("free length, (2C − 1 + N) d"), loops])
    rows.append([v.say("rate at small load, as drawn"), v("rates.small_load", "rate")])
    if s.rates.between_points is not None:
        rows.append([v.say("rate between working points"), v("rates.between_points", "rate")])
    rows += [
        [
            v.say("rate, {convention}", convention=v.text(name)),
            v(f"rate_conventions.{name}.rate", "rate"),
        ]
        for name in s.rate_conventions
    ]
    caption = v.say("Free length and rate by several ways")
    return table(caption, [v.say("way"), v.say("value")], rows)


def compliance_table(s: Summary, v: Values) -> Markup:
    """Return which piece of wire gives how much of the deflection."""
    whole = sum(s.along_the_wire.compliance.values())
    rows = [
        [v.text(piece_words(label)), v.digits("percent", 100 * value / whole, places=1) + "\u00a0%"]
        for label, value in s.along_the_wire.compliance.items()
    ]
    return table(v.say("Share of the deflection"), [v.say("piece of wire"), v.say("share")], rows)


def fatigue_table(s: Summary, v: Values) -> Markup:
    """Return the cycle's stresses and safety factors by both ways, and as mounted."""
    assert s.fatigue is not None
    factors = ("factor", "gerber", "goodman", "yielding", "life_table")
    rows = []
    every = [(WAY_WORDS[way], path) for way, path in _PATHS.items()]
    every += [(way_words(way, as_mounted=True), path) for way, path in _THERE.items()]
    for words, path in every:
        for name in getattr(s.fatigue, path):
            at = f"fatigue.{path}.{name}"
            rows.append(
                [
                    v.text(PLACES[name]),
                    v.text(words),
                    v(f"{at}.mean", "stress", 3, bare=True),
                    v(f"{at}.alternating", "stress", 3, bare=True),
                    *(v(f"{at}.{k}", places=2) for k in factors),
                ]
            )
    head = [
        v.say("place"),
        v.say("way"),
        f"{v.say('mean')}\n{v.unit('stress')}",
        f"{v.say('alternating')}\n{v.unit('stress')}",
        v.say("factor"),
        v.say("for ever,\nGerber"),
        v.say("for ever,\nGoodman"),
        v.say("factor,\nyielding"),
        v.say("factor,\nlife table"),
    ]
    return table(v.say("The cycle"), head, rows, words=(1,))


def pull_table(s: Summary, v: Values) -> Markup:
    """Return load and length at which each place reaches its allowable, and yields."""
    rows = []
    for way, path in _PATHS.items():
        for name, place in getattr(s.pull, path).items():
            at = f"pull.{path}.{name}"
            row = [v.text(PLACES[name]), v.text(WAY_WORDS[way])]
            for end in ("allowable", "yield_from", "yield_to"):
                if getattr(place, end) is None:
                    row += [v.say("not known"), ""]
                else:
                    row += [
                        v(f"{at}.{end}.load", "force", 3, bare=True),
                        v(f"{at}.{end}.length", "length", places=2, bare=True),
                    ]
            rows.append(row)
    length, force = v.unit("length"), v.unit("force")
    head = [v.say("place"), v.say("way")]
    for words in (v.say("allowable at"), v.say("yield from"), v.say("to")):
        head += [f"{words}\n{force}", length]
    return table(v.say("How far it may be pulled"), head, rows, words=(1,))


def findings_list(findings: Sequence[Finding], v: Values) -> Markup:
    """Return findings, gravest first, in words."""
    return render(
        "findings",
        nothing=v.say("Nothing to remark."),
        findings=[
            {
                "severity": f.severity,
                "title": v.text(SEVERITY[f.severity]),
                "subject": _capital(v.text(subject(f.field))),
                "sentence": _sentence(v.text(f.message)),
                "field": f.field,
                "code": f.code,
            }
            for f in findings
        ],
    )


def _sentence(text: str) -> str:
    return text + ("" if text.endswith(".") else ".")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def checks_table(s: Summary, v: Values) -> Markup:
    """Return what was checked on the centreline."""
    if not s.checks:
        return Markup("<p>{}</p>").format(v.say("No check was run."))
    rows = [
        [
            v.text(c.what),
            _small(c.value, c.unit, v),
            _small(c.bound, c.unit, v),
            v.say("passed")
            if c.ok
            else Markup('<strong class="low">{}</strong>').format(v.say("FAILED")),
        ]
        for c in s.checks
    ]
    head = [v.say("what"), v.say("found"), v.say("bound"), v.say("verdict")]
    return table(v.say("Checks on the centreline"), head, rows)


def _small(x: float, unit: str, v: Values) -> Markup:
    text = f"{x:.2g}" if abs(x) < 0.01 else f"{x:.5g}"
    text = text.replace("-", "−").replace(".", DECIMAL[v.shown.language])
    return text + united(unit)

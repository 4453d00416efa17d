"""The desk's page: form, view, diagrams and numbers, with the scripts that keep them in step."""

from __future__ import annotations

from typing import Any, Literal

import numpy as np

from springgeo import colours
from springgeo.desk.desk import FILES
from springgeo.mechanics import initial_tension as published
from springgeo.report.controls import scale_of
from springgeo.report.document import asset, document, json_of
from springgeo.report.html import Markup, render
from springgeo.report.paint import KINDS
from springgeo.report.script_words import words_of
from springgeo.report.value import Values
from springgeo.results.facts import CAUTIONS
from springgeo.text.quantity import UNITS
from springgeo.text.shown import Shown, word

# in the order in which one needs another
SCRIPTS = ("asker", "dom", "plot", "form", "numbers", "stage_view", "styles", "desk")
_OWN = "springgeo.desk"

_TEXTS = {
    "limits": word("{low} to {high}"),
    "from": word("from {low}"),
    "slider": word("{words}, slider"),
    "more": word("more, not given: {count}"),
    "was": word("as it was"),
    "now": word("what if"),
    "difference": word("difference"),
    "quantity": word("quantity"),
    "notWritten": word("not written to the file: {why}"),
    "written": word("Written to the file."),
    "outside": word("The file was changed elsewhere: the page shows it as it is now."),
    "conflict": word(
        "{key} was changed here and elsewhere: {file} in the file, {page} on this page. Nothing "
        "was overwritten."
    ),
    "keepFile": word("Keep the file's"),
    "keepPage": word("Write this page's"),
    "empty": word("nothing"),
    "gone": word("The file is gone from its folder. Its text is still here."),
    "restore": word("Write it again"),
    "unreadable": word("The file cannot be read as it stands: {why}"),
    "stepBack": word("Take the last step back"),
    "ended": word(
        "The desk has ended: its terminal was closed. What you typed is still here; start it "
        "again and reload."
    ),
    "told": word("{kind} {stress}, {share} % of its allowable ({word})"),
    "here": word("{load}, {length} inside hooks, greatest {told}"),
    "mounted": word("{load}, {length} inside hooks, as mounted, greatest {told}"),
    "straight": word("{load}, {length} inside hooks, pulled straight, greatest {told}"),
    "free": word("free"),
    "loadAxis": word("load"),
    "lengthAxis": word("length inside hooks"),
    "indexAxis": word("spring index D/d"),
    "stressAxis": word("initial-tension stress (uncorrected)"),
    "dragLoad": word("Load shown: drag, or arrow keys"),
    "dragTension": word("Initial tension: drag, or arrow keys"),
    "hook": word("hook {length}"),
    "share": word("{share} % ({word})"),
    "noHook": word("not judged"),
    "choose": word("Use {title} at the {end}"),
    "working": word("computing"),
    "ready": word("{name} is ready."),
    "nothing": word("Nothing to remark."),
    "shape": word("Shape"),
    "load": word("Load and tension"),
    "life": word("Limits and life"),
}
GROUPS = {
    "general": word("General"),
    "wire": word("Wire"),
    "body": word("Body"),
    "ends.first": word("First end"),
    "ends.second": word("Second end"),
    "ends": word("Both ends"),
    "service": word("Service"),
    "mating": word("Mating parts"),
    "tolerances": word("Tolerances"),
    "making": word("For the maker"),
    "drawing": word("Title block"),
}
_SEVERITIES = {"error": word("Error"), "warning": word("Warning"), "note": word("Note")}


def page(name: str, shown: Shown, way: Literal["server", "parent"] = "server") -> str:
    """Return the page for a file of that name; ``parent``: it stands in a frame, and asks that."""
    v = Values({}, shown)
    return document(
        v.say("{name}: at the desk", name=name),
        body(name, v),
        {"view-data": json_of(reader_data(v) | {"way": way})},
        shown.language,
        script=script(),
        style=asset("desk.css", _OWN),
        asks=way == "server",
    )


def body(name: str, v: Values) -> Markup:
    """Return what stands on the page before anything is known of the spring."""
    return render(
        "desk",
        _OWN,
        name=name,
        say=v.say,
        kinds={k: v.text(w) for k, w in KINDS.items()},
        files=FILES,
        cautions=[v.text(t) for t in CAUTIONS],
        **scale_of(v),
    )


def script() -> str:
    """Return the desk's own scripts."""
    return "".join(asset(f"{name}.js", _OWN) for name in SCRIPTS)


def _band() -> list[list[float]]:
    """Return the preferred initial tension: index, and from where to where, MPa."""
    index = np.linspace(published.INDEX_LOW, published.INDEX_HIGH, 40)
    band = published.preferred_shigley(index)
    found: list[list[float]] = np.column_stack([index, band.low, band.high]).round(4).tolist()
    return found


def reader_data(v: Values) -> dict[str, Any]:
    """Return texts, units and colours for the scripts."""
    data = words_of(v)
    data["texts"] |= {k: v.text(w) for k, w in _TEXTS.items()}
    data["groups"] = {k: v.text(w) for k, w in GROUPS.items()}
    data["severities"] = {k: v.text(w) for k, w in _SEVERITIES.items()}
    data["units"] = {
        kind: {"factor": u[v.shown.units].factor, "offset": u[v.shown.units].offset}
        | {"sign": v.unit(kind)}
        for kind, u in UNITS.items()
    }
    data["near"] = colours.NEAR
    data["band"] = _band()
    return data

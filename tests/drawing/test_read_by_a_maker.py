"""What a maker who looked at the sheets stumbled over: a value that cannot be, or is told twice."""

from __future__ import annotations

import pytest

from springgeo import Spring
from springgeo.drawing import sheets
from springgeo.drawing.grid import Grid
from springgeo.drawing.measured import text_width, wrap
from springgeo.drawing.page import Page
from springgeo.drawing.rows.data import data_rows
from springgeo.drawing.rows.row import Row, Sheet
from springgeo.drawing.rows.table import Box, draw_entries, entries
from springgeo.making import maker_data
from springgeo.making.ruling import free_parameter
from springgeo.text.shown import Shown
from tests.fittings.springs import spring

pytest.importorskip("matplotlib")
pytest.importorskip("shapely")
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import TextPath

PRINTED = Shown(typeset=True)


def rows(s: Spring) -> dict[str, str]:
    """Return what the table states; of what both ends state, the second."""
    found = data_rows(Sheet(s.model, s.summary(), "metric"))
    return {f"{r.symbol} {r.quantity}".strip(): PRINTED.text(r.value) for r in found}


def made(first: str, second: str = "plain", **body: float) -> Spring:
    return spring(first, second, **body)


def test_a_million_cycles_are_written_out() -> None:
    assert PRINTED.number(1e6) == "1\u202f000\u202f000"
    assert Shown().number(1e7, 3) == "10000000"
    assert PRINTED.number(1e12) == "1e+12"


def test_two_turns_side_by_side_have_no_mouth() -> None:
    s = made("double-twisted-full-loop")
    assert s.summary().geometry.mouth_first == 0.0
    assert rows(s)["m mouth, clear"] == "none: the loop is closed"
    checks = maker_data(s.model, s.summary(), "metric").inspection
    assert not [c for c in checks if c.symbol == "m"]


def test_a_mouth_and_its_tolerance_have_the_same_decimals() -> None:
    mouth = rows(made("machine-half-loop"))["m mouth, clear"].removesuffix("\u00a0mm")
    assert [len(x.partition(".")[2]) for x in mouth.split(" ±")] == [2, 2]


def test_a_straight_end_has_a_rise_and_no_loop() -> None:
    table = rows(made("straight-annealed-end"))
    assert "r1 rise radius, centreline" in table
    assert not {"r1 loop radius, centreline", "b width over the hook"} & set(table)


def test_coils_apart_have_no_initial_tension_to_inspect() -> None:
    s = Spring.from_dict(
        {
            "wire": {"diameter": 1.0},
            "body": {"mean_diameter": 10, "coils": 6, "pitch": 1.5},
            "ends": {"first": "machine-half-loop", "second": "machine-half-loop"},
            "service": {"loads": [2, 4]},
        }
    )
    table = rows(s)
    assert table["F0 initial tension"] == "none"
    assert not any(name.startswith("τ0") for name in table)
    assert not [
        c for c in maker_data(s.model, s.summary(), "metric").inspection if c.symbol == "F0"
    ]
    page = sheets(s.model, s.summary())[0]
    assert not any("± F0" in t.text for t in page.texts)


def test_yield_before_the_stop_says_so() -> None:
    s = made("straight-annealed-end", "machine-half-loop")
    pull, table = s.summary().pull, rows(s)
    assert pull.first_yield is not None
    early = pull.first_yield.length < pull.travel_stop
    assert ("may yield before, from" in table) is early
    assert ("may yield from" in table) is not early


def test_the_length_to_a_fitting_is_for_reference_on_the_view_as_in_the_table() -> None:
    s = made("threaded-plug", "machine-half-loop")
    labels = [dim.text for dim in sheets(s.model, s.summary())[0].linear if "LH" in dim.text]
    assert sorted(label[:3] for label in labels) == ["(LH", "LH "]


def test_coils_that_settle_are_not_counted_as_the_fitting_s() -> None:
    table = rows(made("plain", "screwed-in-shackle"))
    assert (table["coils held, inactive"], table["of them on the fitting"]) == ("4", "3.5")
    assert "coils in the end" not in table


def test_a_sheet_without_a_view_states_no_scale() -> None:
    s = made("threaded-plug", "screwed-in-shackle")
    scales = []
    for page in sheets(s.model, s.summary()):
        at = next(t.at for t in page.texts if t.text == "Scale")
        near = [t for t in page.texts if t.layer == "TITLE" and 0 < at[1] - t.at[1] < 6]
        scales.append(min(near, key=lambda t: abs(t.at[0] - at[0])).text)
    assert len(scales) == 2
    assert ":" in scales[0]
    assert scales[1] == "–"


def test_a_value_is_not_parted_from_its_tolerance_nor_a_standard_from_its_number() -> None:
    tied = wrap("ones of EN 10270-1", 2.5, text_width("EN 10270-1", 2.5) + 0.1)
    assert tied == ["ones of", "EN\u00a010270-1"]
    assert wrap(
        "one 27 ±0.35 [1.063 ±0.014]", 2.5, text_width("one 27 ±0.35 [1.063", 2.5) + 0.1
    ) == [
        "one 27\u00a0±0.35",
        "[1.063\u00a0±0.014]",
    ]


def test_the_name_of_a_piece_stands_once_on_each_sheet() -> None:
    names = ("coil of the first end", "coil of the first end", "body")
    grid = Grid(
        "BENDING", ("", "piece"), tuple((str(k), n) for k, n in enumerate(names)), ditto=(1,)
    )
    page = Page(100.0, 100.0, 1.0, "")
    done, _ = grid.draw(page, Box(0.0, 0.0, 80.0, 90.0), 0)
    assert done == 3
    assert [t.text for t in page.texts if t.text in (*names, "″")] == [names[0], "″", "body"]
    page = Page(100.0, 100.0, 1.0, "")
    grid.draw(page, Box(0.0, 0.0, 80.0, 90.0), 1)
    assert [t.text for t in page.texts if t.text in (*names, "″")] == [names[1], "body"]


def test_a_straight_end_has_one_length() -> None:
    s = made("straight-annealed-end", "machine-half-loop")
    keys = [dim.key for dim in sheets(s.model, s.summary())[0].linear]
    assert "geometry.hook_length_first" in keys
    assert [k for k in keys if "opening" in k] == ["geometry.opening_second"]


def test_as_many_loads_are_required_as_are_given() -> None:
    data = {
        "wire": {"diameter": 1.0},
        "body": {"mean_diameter": 10, "coils": 6, "pitch": 1.5},
        "ends": {"first": "machine-half-loop", "second": "machine-half-loop"},
    }
    for loads, many in (([2, 4], "two"), ([2, 3, 4], "3")):
        s = Spring.from_dict({**data, "service": {"loads": loads}})
        assert free_parameter(s.spec, s.summary())[1] == f"{many} loads at lengths are required"


def test_an_accent_on_a_heading_clears_the_line_above() -> None:
    page, size = Page(100.0, 100.0, 1.0, ""), 3.0
    rows = [Row("", "PREMIÈRE EXTRÉMITÉ", ""), Row("LH", "hauteur", "9")]
    draw_entries(page, Box(0.0, 0.0, 90.0, 90.0), entries(rows, size, 90.0), rows, size)
    heading = next(t for t in page.texts if t.text.startswith("PREM"))
    # the height of the letter È over that of capitals, DejaVu Sans
    path = TextPath((0, 0), "È", size=100, prop=FontProperties(family="DejaVu Sans"))
    flat = TextPath((0, 0), "H", size=100, prop=FontProperties(family="DejaVu Sans"))
    top = heading.at[1] + size * path.get_extents().y1 / flat.get_extents().y1
    line = next(x for x in page.lines if x.layer == "DATA")
    assert top < line.points[0, 1] - 0.15


@pytest.mark.parametrize(
    ("hand", "words", "winding"),
    [
        ("right", "enroulement à droite", "spires jointives"),
        ("left", "enroulement à gauche", "spires jointives"),
    ],
)
def test_a_french_maker_reads_the_hand_and_how_it_is_wound(
    hand: str, words: str, winding: str
) -> None:
    s = made("machine-half-loop", hand=hand)  # type: ignore[arg-type]
    french = Shown(language="fr", typeset=True)
    found = {
        french.text(r.quantity): french.text(r.value)
        for r in data_rows(Sheet(s.model, s.summary(), "metric"))
    }
    assert found["spires, sens d’enroulement"].endswith(words)
    assert winding in found["enroulement"]
    assert "droite" not in found["spires, sens d’enroulement"] or hand == "right"

import io
from functools import cache
from itertools import combinations

import numpy as np
import pytest

from springgeo.drawing import PAPERS, drawing_files, sheet, sheets
from springgeo.drawing.maker_page import maker_pages
from springgeo.making import maker_data
from springgeo.making.ruling import free_parameter
from springgeo.specification.load import presets
from springgeo.text.shown import Shown
from tests.gate import thinned
from tests.springs import again, kept, made

pytestmark = pytest.mark.usefixtures("presets_kept")

pytest.importorskip("matplotlib")
pytest.importorskip("shapely")
PRESETS = sorted(presets())


def spec(**changes):
    data = {
        "wire": {"material": "astm-a228", "diameter": 1.2},
        "body": {"mean_diameter": 9.6, "coils": 20},
        "ends": {"first": {"style": "machine-half-loop"}, "second": {"style": "machine-half-loop"}},
        "service": {"loads": [25, 40]},
    }
    for key, value in changes.items():
        data[key] = {**data[key], **value}
    return made(data)


def overlapping(page):
    """Return the pairs of texts whose inked boxes overlap, and texts off the paper."""
    import matplotlib as mpl
    from matplotlib.backends.backend_agg import FigureCanvasAgg

    from springgeo.drawing.figure import _SETTINGS, make_figure

    with mpl.rc_context({**_SETTINGS}):
        figure = make_figure(page)
        figure.set_dpi(200)
        renderer = FigureCanvasAgg(figure).get_renderer()
        texts = figure.axes[0].texts
        boxes = [(t.get_text(), t.get_window_extent(renderer).shrunk(0.98, 0.75)) for t in texts]
    width, height = figure.get_size_inches() * 200
    off = [
        text for text, box in boxes if box.x0 < 0 or box.y0 < 0 or box.x1 > width or box.y1 > height
    ]
    return [(a[0], b[0]) for a, b in combinations(boxes, 2) if a[1].overlaps(b[1])] + off


@pytest.mark.parametrize(("name", "paper"), thinned(3, PRESETS, list(PAPERS)))
def test_texts_of_presets_keep_clear_of_each_other(name, paper):
    spring = kept(name)
    assert [overlapping(p) for p in sheets(spring.model, spring.summary(), paper)] in (
        [[]],
        [[], []],
    )


UNUSUAL = [
    {"body": {"coils": 3}},
    {"body": {"coils": 80}},
    {"body": {"mean_diameter": 24, "coils": 6, "initial_tension": 2}},
    {"service": {"loads": [25]}},
    {"service": {"loads": []}},
    {"service": {"loads": [25, 25.1, 25.2, 26, 40, 41]}},
    {"ends": {"angle": "150 deg"}},
    {"ends": {"second": {"style": "plain"}}},
    {"body": {"hand": "left"}, "ends": {"angle": "45 deg"}},
    {"ends": {"first": {"style": "threaded-plug"}, "second": {"style": "screwed-in-shackle"}}},
    {"ends": {"first": {"style": "coned-swivel-eye"}, "second": {"style": "coned-swivel-eye"}}},
    {"ends": {"second": {"style": "coned-swivel-bolt"}}, "body": {"coils": 80}},
]


@cache
def unusual(number):
    """Return one of these, whose papers share what is computed of it."""
    return spec(**UNUSUAL[number])


@pytest.mark.parametrize(("number", "paper"), thinned(3, range(len(UNUSUAL)), list(PAPERS)))
def test_texts_of_unusual_springs_keep_clear_of_each_other(number, paper):
    spring = unusual(number)
    for page in sheets(spring.model, spring.summary(), paper):
        assert overlapping(page) == []


@pytest.mark.parametrize("name", PRESETS)
def test_every_dimension_is_a_value_of_the_summary_at_the_scale_drawn(name):
    spring = kept(name)
    summary = spring.summary().model_dump()
    page = sheet(spring.model, spring.summary())
    assert page.linear
    for dim in page.linear:
        group, field = dim.key.split(".")
        k = 1 if dim.upright else 0
        assert dim.value == pytest.approx(summary[group][field], rel=1e-9)
        assert (dim.end[k] - dim.start[k]) / page.scale == pytest.approx(dim.value, rel=1e-9)


def test_views_stay_inside_their_field():
    for name in PRESETS:
        spring = kept(name)
        page = sheet(spring.model, spring.summary())
        points = np.concatenate([x.points for x in page.lines if x.layer == "OUTLINE"])
        assert points[:, 0].min() > 20
        assert points[:, 0].max() < 297 - 8 - 100
        assert points[:, 1].max() < 202


@pytest.mark.parametrize("kind", ["pdf", "svg", "dxf"])
def test_the_same_spring_gives_the_same_bytes(kind):
    pytest.importorskip("ezdxf")
    one, two = (
        drawing_files(s.model, s.summary(), kind)[0]
        for s in (kept("gate-latch"), again("gate-latch"))
    )
    assert one == two
    assert b"/tmp" not in one
    assert b"/home" not in one


def test_one_parameter_is_left_to_the_maker():
    def free(**changes):
        spring = spec(**changes)
        return free_parameter(spring.spec, spring.summary())[0]

    assert "d" in free()
    assert "F0" in free(service={"loads": [25]})
    assert "coils" in free(service={"loads": []})
    asked = spec().with_({"making.free": ["coils", "free-length"]})
    assert free_parameter(asked.spec, asked.summary())[0] == "number of coils n, free length L0"


def test_a_missing_library_names_the_command_that_installs_it(monkeypatch):
    import sys

    from springgeo.drawing import MissingLibraryError

    monkeypatch.setitem(sys.modules, "shapely", None)
    spring = spec()
    with pytest.raises(MissingLibraryError, match=r"pip install 'springgeo\[drawing\]'"):
        drawing_files(spring.model, spring.summary(), "pdf")[0]


def test_command_writes_a_file_and_refuses_other_names(tmp_path, capsys):
    from springgeo.cli.main import run

    out = tmp_path / "sheet.svg"
    assert run(["draw", "--preset", "gate-latch", "-o", str(out), "--paper", "letter"]) == 0
    assert out.read_bytes().startswith(b"<?xml")
    assert run(["draw", "--preset", "gate-latch", "-o", str(tmp_path / "x.bmp")]) == 2
    assert ".pdf" in capsys.readouterr().err


def test_pdf_is_a_pdf():
    spring = spec()
    assert io.BytesIO(drawing_files(spring.model, spring.summary(), "pdf")[0]).read(5) == b"%PDF-"


@pytest.mark.parametrize(
    ("angle", "hand", "paper"), thinned(3, [30, 75, 150], ["right", "left"], ["A4", "Letter"])
)
def test_the_angle_dimension_points_along_the_loop_at_b(angle, hand, paper):
    spring = spec(ends={"angle": angle}, body={"hand": hand})
    (dim,) = sheet(spring.model, spring.summary(), paper).angular
    assert dim.end - dim.start == pytest.approx(angle, abs=1e-6)
    loop = [
        p for p in spring.centreline.pieces if p.label.startswith("second.") and p.role == "loop"
    ]
    x, y, _ = np.concatenate([p.segment.point(np.linspace(0, p.segment.length, 9)) for p in loop]).T
    # on the end view x is up; y is right in first angle, left in third
    right = y if paper == "A4" else -y
    i = int(np.argmax(np.hypot(x, y)))
    seen = np.degrees(np.arctan2(x[i], right[i]))
    marked = {dim.start, dim.end} - {90.0}
    assert min(abs((seen - m + 90) % 180 - 90) for m in marked) < 2


def test_notes_that_go_on_over_the_page_stand_under_their_heading() -> None:
    """The maker's second sheet began with note 3."""
    spring = kept("damper-flap")
    data = maker_data(spring.model, spring.summary(), PAPERS["A4"].trade)
    shown = Shown("mm", "de", typeset=True)
    pages = maker_pages(spring.model, spring.summary(), data, "A4", shown)
    assert len(pages) > 1
    for page in pages:
        texts = [t for t in page.texts if t.layer == "DATA"]
        right = [t for t in texts if t.at[0] > page.width - 8 - PAPERS["A4"].column - 0.1]
        first = max(right, key=lambda t: (t.at[1], -t.at[0]))
        assert first.text in ("DRAHT", "HINWEISE")

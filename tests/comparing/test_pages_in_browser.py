"""The choices of a job, a comparison and a watched report in a browser: keys, readers, screens."""

from __future__ import annotations

import pytest

from springgeo import Spring
from springgeo.comparing import compare
from springgeo.comparing.page import page as comparison_page
from springgeo.comparing.sizes import sizes_page
from springgeo.desk.explore import explored
from springgeo.report import write
from springgeo.sizing import size
from springgeo.text.shown import Shown
from tests.comparing.test_sizes import JOB
from tests.desk.conftest import _browser, _page  # noqa: F401
from tests.desk.test_explore import small
from tests.report.acting import cut
from tests.report.axe import violations

pytestmark = pytest.mark.slow
FOCUS = "document.activeElement"


@pytest.fixture(name="choices", scope="module")
def _choices(tmp_path_factory):
    file = tmp_path_factory.mktemp("sizes") / "choices.html"
    file.write_text(sizes_page(size(JOB, top=3), Shown()), encoding="utf-8")
    return file


@pytest.fixture(name="pages", scope="module")
def _pages(tmp_path_factory):
    folder, found = tmp_path_factory.mktemp("pages"), {}
    spring = Spring.from_dict(small())
    result = size(JOB, top=3)
    both = compare({"short": spring, "long": spring.with_({"body.coils": "9"})})
    for shown in (Shown(), Shown("inch", "de")):
        made = {
            "choices": sizes_page(result, shown),
            "compare": comparison_page(both, shown),
            "explore": explored(spring, {"body.coils": [6, 8]}, shown),
        }
        for name, text in made.items():
            file = folder / f"{name}-{shown.language}.html"
            file.write_text(text, encoding="utf-8")
            found[shown.language, name] = file
    return found


def attribute(page, name):
    return page.run(f"{FOCUS}.getAttribute('{name}')")


def reached(page, role):
    """Press Tab until what has the focus has a role."""
    for _ in range(25):
        page.key("Tab")
        if attribute(page, "role") == role:
            assert page.run(f"getComputedStyle({FOCUS}).outlineStyle") != "none"
            return
    raise AssertionError(f"no {role} is reached")


def test_the_front_is_walked_and_choices_are_made_with_keys_alone(page, choices):
    page.open(choices)
    page.run("document.getElementById('pair').focus()")
    reached(page, "slider")
    assert attribute(page, "aria-valuenow") == "1"
    said = [attribute(page, "aria-valuetext")]
    for key in ("ArrowRight", "ArrowRight", "ArrowLeft"):
        page.key(key)
        said.append(attribute(page, "aria-valuetext"))
        assert page.run("document.getElementById('design').textContent") == said[-1]
    assert len(set(said)) == 3
    assert said[1] == said[3]
    page.key("Tab")
    assert attribute(page, "role") == "radio"
    assert attribute(page, "aria-checked") == "true"
    first = page.run("document.getElementById('reading').textContent")
    page.key("ArrowRight")
    assert attribute(page, "aria-label").startswith("choice 2")
    assert attribute(page, "aria-checked") == "true"
    assert page.run("document.getElementById('reading').textContent") != first
    assert page.run("document.querySelectorAll('[data-choice][aria-pressed=true]').length") == 1
    # another diagram keeps choice and design
    page.run(
        "(() => { const e = document.getElementById('pair'); e.value = 1; "
        "e.dispatchEvent(new Event('change')); })()"
    )
    assert attribute(page, "aria-label").startswith("choice 2")
    assert page.log == []


@pytest.mark.parametrize(
    ("wide", "density", "scheme"),
    [(1280, 1, "light"), (640, 2, "dark"), (390, 3, "light")],
)
@pytest.mark.parametrize("name", ["choices", "compare", "explore"])
@pytest.mark.parametrize("language", ["en", "de"])
def test_all_is_whole_and_named(page, pages, language, name, wide, density, scheme):
    """On a desk's screen, at 200 % of one, on a phone; light and dark; axe-core finds nothing."""
    page.size(wide, 600, density=density)
    page.media(prefers_color_scheme=scheme)
    page.open(pages[language, name])
    assert cut(page) == []
    assert page.log == []
    assert violations(page) == []


def test_a_watched_report_keeps_what_was_set_on_it(page, tmp_path):
    """The page loads itself anew when it was written again: camera and controls stay."""
    spring, file = Spring.from_dict(small()), tmp_path / "watched.html"
    write(spring, file, number=1)
    page.open(file)
    camera = "document.getElementById('canvas').view.stage.camera"
    page.run(f"(() => {{ {camera}.turn(0.7, 0.2); {camera}.scale(1.5); }})()")
    page.run(
        "(() => { const e = document.getElementById('load'); e.value = 400; "
        "e.dispatchEvent(new Event('input')); document.getElementById('cut').click(); "
        "window.before = true; })()"
    )
    turned = page.run(f"[{camera}.about, {camera}.tilt, {camera}.zoom]")
    write(spring.with_({"body.coils": "9"}), file, number=2)
    page.until("!window.before && document.documentElement?.dataset.drawn === 'yes'")
    assert page.run(f"[{camera}.about, {camera}.tilt, {camera}.zoom]") == pytest.approx(turned)
    assert page.run("document.getElementById('load').value") == "400"
    assert page.run("document.getElementById('cut').checked")
    assert page.log == []

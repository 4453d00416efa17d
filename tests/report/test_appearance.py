"""How the page looks: both themes, a phone, paper, without scripts, without 3-D."""

from __future__ import annotations

import pytest

from tests.report.acting import background, click, drawn, height, paper, script, text


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_contrast_is_enough_in_both_themes(page, files, scheme):
    page.media(prefers_color_scheme=scheme)
    page.open(files["still"])
    assert (paper(page) > 200) if scheme == "light" else (paper(page) < 60)
    assert page.run(script("contrast")) == []


def test_theme_button_turns_the_page_dark_and_back(gate):
    gate.media(prefers_color_scheme="light")
    assert paper(gate) > 200
    click(gate, "#theme")
    assert paper(gate) < 60
    assert text(gate, "theme") == "Light"
    assert background(gate.pixels(".frame")).max() < 90
    click(gate, "#theme")
    assert paper(gate) > 200
    gate.run("localStorage.clear()")


def test_fits_a_phone(page, files):
    page.size(390, 844, phone=True)
    for name in ("gate", "hostile"):
        page.open(files[name])
        assert page.run("document.documentElement.scrollWidth <= innerWidth")
        assert drawn(page.pixels(".frame")).mean() > 0.02
        # letters of a diagram as they appear, px
        sizes = page.run(
            "[...document.querySelectorAll('svg.chart')].map(e => e.getBoundingClientRect().width"
            " / e.viewBox.baseVal.width * parseFloat(getComputedStyle(e).fontSize))"
        )
        assert min(sizes) > 10.5
        # targets of a finger: WCAG 2.2, 2.5.8 asks for 24 px
        heights = page.run(
            "[...document.querySelectorAll('button, select, #load, label')]"
            ".map(e => e.getBoundingClientRect().height).filter(h => h)"
        )
        assert min(heights) >= 24


# generic names stand for whatever a machine has; the widest common face is named
FACES = ("system-ui", "sans-serif", "serif", "monospace", "DejaVu Sans")


@pytest.mark.parametrize("name", ["gate", "hostile", "still", "mates", "over"])
def test_labels_of_a_diagram_stay_inside_and_do_not_overlap(page, files, name):
    page.open(files[name])
    for face in FACES:
        # the last rule counts
        page.run(
            "document.styleSheets[0].insertRule("
            f"`svg.chart text {{ font-family: '{face}', {face} !important }}`, "
            "document.styleSheets[0].cssRules.length)"
        )
        page.settle()
        assert page.run(script("overlap")) == [], face


def test_without_scripts_the_content_is_there(page, files):
    page.scripts(on=False)
    page.open(files["gate"], drawn=False)
    # this tool may still ask: only the page's own scripts are off
    for place in (".still svg", "noscript p", "#stress svg.chart", "#compare table"):
        assert height(page, place) > 20
    assert height(page, "#view") == 0
    assert height(page, "#controls") == 0
    assert drawn(page.pixels(".still svg")).mean() > 0.1
    assert page.log == []


@pytest.mark.parametrize("missing", ["true", "kind === 'webgl2'"])
def test_without_3d_the_picture_stands_in(page, files, missing):
    page.call(
        "Page.addScriptToEvaluateOnNewDocument",
        source="const own = HTMLCanvasElement.prototype.getContext; "
        "HTMLCanvasElement.prototype.getContext = function (kind, ...rest) "
        f"{{ return {missing} ? null : own.call(this, kind, ...rest); }}",
    )
    page.open(files["gate"], drawn=False)
    page.until("!document.getElementById('no-view').hidden")
    assert "no WebGL 2" in text(page, "no-view")
    assert height(page, ".still svg") > 50
    assert height(page, "#controls") == 0
    assert not [x for x in page.log if "exception" in x.lower()]


def test_paper_shows_the_picture_on_white(page, files):
    page.call(
        "Emulation.setEmulatedMedia",
        media="print",
        features=[{"name": "prefers-color-scheme", "value": "dark"}],
    )
    page.open(files["gate"])
    assert page.run("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
    assert page.run("getComputedStyle(document.body).color") == "rgb(0, 0, 0)"
    assert height(page, ".still svg") > 50
    for name in ("#view", "#controls", "#theme", "[data-copy]"):
        assert height(page, name) == 0
    assert page.pdf().startswith(b"%PDF-")

"""The desk in a real browser: hand, keys, other editors, small screens, readers of the screen."""

from __future__ import annotations

import pytest

from tests.desk.conftest import served
from tests.desk.test_desk import TEXT, save
from tests.report.acting import cut
from tests.report.axe import violations

pytestmark = pytest.mark.slow
for _library in ("starlette", "uvicorn", "ruamel.yaml"):
    pytest.importorskip(_library, reason="the extra live has it")

DESK = "document.getElementById('canvas').desk"


@pytest.fixture(name="path")
def _path(tmp_path):
    path = tmp_path / "spring.yaml"
    path.write_text(TEXT)
    return path


@pytest.fixture(name="desk")
def _desk(page, path):
    with served(path) as address:
        page.call("Page.navigate", url=address)
        page.until("document.documentElement?.dataset.drawn === 'yes'")
        page.until(f"{DESK}.curves.was && {DESK}.curves.now")
        yield page
        assert page.log == []


def rests(page):
    """Wait until the newest numbers and the shape are there."""
    page.until(
        f"!{DESK}.nearPump.busy && !{DESK}.nearPump.wanted && !{DESK}.shapePump.busy "
        f"&& !{DESK}.ghostPump.busy"
    )


def typed(page, key, text, *, done=True):
    name = "f-" + key.replace(".", "-")
    page.run(
        f"(() => {{ const e = document.getElementById({name!r}); e.value = {text!r}; "
        "e.dispatchEvent(new Event('input')); "
        f"if ({str(done).lower()}) e.dispatchEvent(new Event('change')); }})()"
    )


def value(page, key):
    return page.run(f"document.getElementById('f-{key.replace('.', '-')}').value")


def text(page, name):
    return page.run(f"document.getElementById('{name}').textContent")


def row(page, words):
    """Return the cells of a row of numbers: as it was, what if, difference."""
    return page.run(
        "[...document.querySelectorAll('#table tr')].find(r => r.cells[0].textContent.startsWith("
        f"{words!r})) && [...[...document.querySelectorAll('#table tr')].find(r => "
        f"r.cells[0].textContent.startsWith({words!r})).cells].slice(1).map(c => c.textContent)"
    )


def test_a_slider_moves_spring_and_numbers_and_writes_when_let_go(desk, path):
    before = desk.pixels(".frame")
    slider = "document.querySelector('#f-body-coils').parentNode.querySelector('[type=range]')"
    desk.run(f"{slider}.value = 9; {slider}.dispatchEvent(new Event('input'))")
    rests(desk)
    assert row(desk, "body coils") == ["6", "9", "+3"]
    assert path.read_text() == TEXT
    assert (abs(desk.pixels(".frame") - before).max(axis=2) > 24).mean() > 0.01
    desk.run(f"{slider}.dispatchEvent(new Event('change'))")
    desk.until(f"{DESK}.number === 1")
    assert path.read_text() == TEXT.replace("coils: 6", "coils: 9")
    desk.run("document.getElementById('back').click()")
    desk.until(f"{DESK}.number === 2")
    assert path.read_text() == TEXT
    assert value(desk, "body.coils") == "6"


def test_a_moving_hand_sees_a_rough_picture_that_becomes_fine_by_itself(desk):
    desk.until(f"{DESK}.stage.answer.rough === false")
    fine = desk.run(f"{DESK}.stage.view.wire.count")
    desk.run(
        f"(() => {{ window.seen = []; const s = {DESK}.stage, take = s.take.bind(s); "
        "s.take = (a) => { seen.push([a.rough, a.load, a.length]); take(a); }; })()"
    )
    typed(desk, "wire.diameter", "1.01 mm", done=False)
    desk.until("seen.length === 2")
    rough, after = desk.run("seen")
    assert (rough[0], after[0]) == (True, False)
    assert rough[1:] == after[1:]
    assert desk.run(f"{DESK}.stage.view.wire.count") > fine / 2
    assert desk.run("document.getElementById('canvas').width") == pytest.approx(
        2 * desk.run("document.getElementById('canvas').clientWidth"), abs=1
    )


def test_a_spring_that_grows_stays_in_the_picture(desk):
    desk.until(f"{DESK}.stage.answer.rough === false")
    typed(desk, "body.coils", "24", done=False)
    desk.until(f"{DESK}.stage.answer.length > 40 && {DESK}.stage.answer.rough === false")
    assert not desk.run(f"{DESK}.stage.view.stage.camera.cropped")


def test_lengths_of_service_are_stops_and_the_longest_is_shown(page, path):
    path.write_text(TEXT.replace("loads: [10 N]", "lengths: [27 mm, 32 mm]"))
    with served(path) as address:
        page.call("Page.navigate", url=address)
        page.until(f"document.documentElement?.dataset.drawn && {DESK}.curves.now")
        page.until(f"Math.abs({DESK}.stage.answer.length - 32) < 1e-6")
        assert page.run("document.getElementById('stops').children.length") == 3
        page.run("document.getElementById('stops').children[1].click()")
        page.until(f"Math.abs({DESK}.stage.answer.length - 27) < 1e-6")
        assert page.log == []


def test_what_is_refused_is_said_beside_its_field_and_not_written(desk, path):
    typed(desk, "wire.diameter", "90 mm")
    desk.until("document.getElementById('saved').textContent.startsWith('not written')")
    assert "20" in text(desk, "f-wire-diameter-w")
    assert desk.run("document.getElementById('f-wire-diameter').getAttribute('aria-invalid')")
    assert path.read_text() == TEXT
    typed(desk, "wire.diameter", "0.04 in")
    desk.until(f"{DESK}.number === 1")
    assert "diameter: 0.04 in" in path.read_text()
    assert text(desk, "f-wire-diameter-w") == ""


def test_another_editor_and_a_conflict(desk, path):
    save(path, TEXT.replace("coils: 6", "coils: 11"))
    desk.until("document.getElementById('f-body-coils').value === '11'")
    assert "changed elsewhere" in text(desk, "saved")
    # as if the page had not heard of it yet
    desk.run(
        f"(() => {{ const a = {DESK}.asker, way = a.way; "
        "a.way = (q) => way(q.what === 'change' ? {...q, seen: 0} : q); })()"
    )
    typed(desk, "body.coils", "8")
    desk.until("!!document.querySelector('.news')")
    assert "11 in the file, 8 on this page" in text(desk, "news")
    assert "coils: 11" in path.read_text()
    desk.run("document.querySelectorAll('.news button')[1].click()")
    desk.until("!document.querySelector('.news')")
    assert "coils: 8" in path.read_text()


def test_a_file_that_is_gone_is_written_again(desk, path):
    path.unlink()
    desk.until("!!document.querySelector('.news')")
    assert "gone" in text(desk, "news")
    desk.run("document.querySelector('.news button').click()")
    desk.until("!document.querySelector('.news')")
    assert path.read_text() == TEXT


def test_a_file_made_unreadable_keeps_the_spring_and_comes_back(desk, path):
    save(path, "wire: {")
    desk.until("!!document.querySelector('.news')")
    assert value(desk, "wire.diameter") == "1 mm"
    desk.run("document.querySelector('.news button').click()")
    desk.until("!document.querySelector('.news')")
    assert path.read_text() == TEXT


def test_with_keys_alone(desk, path):
    """From the top by Tab: a field is reached, changed by keys, and written by Enter."""
    desk.run("document.activeElement.blur(); scrollTo(0, 0)")
    seen = []
    for _ in range(12):
        desk.key("Tab")
        seen.append(desk.run("document.activeElement.id || document.activeElement.type"))
        assert desk.run("getComputedStyle(document.activeElement).outlineStyle") != "none"
        if seen[-1] == "f-wire-diameter":
            break
    assert seen[-1] == "f-wire-diameter", seen
    desk.key("Tab")
    desk.key("ArrowRight")
    rests(desk)
    desk.until(f"{DESK}.number >= 1")
    assert "diameter: 1 mm" not in path.read_text()
    for name in ("#curve-plot .handle", "#tension-plot .handle"):
        desk.run(f"document.querySelector('{name}').focus()")
        before = desk.run(f"document.querySelector('{name}').getAttribute('aria-valuenow')")
        desk.key("ArrowDown")
        desk.until(f"document.querySelector('{name}').getAttribute('aria-valuenow') !== '{before}'")


def test_two_pages_at_once(desk, browser, path):
    """A second page of the same browser: both follow."""
    address = desk.run("location.href")
    other = browser.page()
    try:
        other.call("Page.navigate", url=address)
        other.until("document.documentElement?.dataset.drawn === 'yes'")
        typed(other, "body.coils", "7")
        desk.until("document.getElementById('f-body-coils').value === '7'")
        typed(desk, "body.coils", "8")
        other.until("document.getElementById('f-body-coils').value === '8'")
        assert "coils: 8" in path.read_text()
    finally:
        other.close()


def test_ends_are_chosen_by_their_pictures(desk, path):
    desk.run("document.getElementById('show-styles').click()")
    desk.until("!!document.querySelector('[data-style=v-hook] img')")
    desk.run("document.querySelector('[data-style=v-hook]').click()")
    desk.until(f"{DESK}.number >= 1")
    assert "first: {style: v-hook}" in path.read_text()


@pytest.mark.parametrize(
    ("wide", "density", "scheme"),
    [(1400, 1, "light"), (1400, 1, "dark"), (390, 3, "light"), (640, 2, "dark")],
)
@pytest.mark.parametrize("reader", ["", "units: inch\nlanguage: de\n"])
def test_nothing_is_wrong_for_readers_of_the_screen(page, path, reader, wide, density, scheme):
    """On a desk's screen, a phone, and at 200 % of a small screen: nothing is cut either."""
    path.write_text(reader + TEXT)
    page.size(wide, 600, density=density)
    page.media(prefers_color_scheme=scheme)
    with served(path) as address:
        page.call("Page.navigate", url=address)
        page.until(f"document.documentElement?.dataset.drawn && {DESK}.curves.now")
        page.run("document.querySelectorAll('details').forEach((e) => { e.open = true; })")
        page.run("document.getElementById('show-styles').click()")
        page.until("document.querySelectorAll('#cards img').length > 8")
        page.settle()
        assert cut(page) == []
        assert violations(page) == []
        assert page.log == []

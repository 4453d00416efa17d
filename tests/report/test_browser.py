"""The view in a real browser: it draws, moves, and follows hand and keys, without the network."""

from __future__ import annotations

import re

import numpy as np
import pytest

from springgeo.colours import INKS, rgb
from springgeo.results.loaded import CurvePoint, length_between
from tests.report.acting import choose, click, corner, drawn, press, reading, slide, summary, text

# what fills a cut wire and a cut part, 0 to 255
CUT, CUT_PART = (255 * np.array(rgb(INKS[k].light)) for k in ("cut-wire", "cut-part"))


@pytest.mark.parametrize("name", ["gate", "hostile", "still", "mates"])
def test_draws_without_complaint_and_without_the_network(page, files, name):
    page.open(files[name])
    pixels = page.pixels(".frame")
    assert page.log == []
    assert page.requests == [files[name].as_uri()]
    assert 0.02 < drawn(pixels).mean() < 0.9
    # a painted wire shows many colours
    assert len(np.unique(pixels.reshape(-1, 3), axis=0)) > 500
    assert page.run("document.title").endswith("extension spring report")


def test_working_points_read_as_in_the_summary(told):
    points = summary(told)["along_the_wire"]["points"]
    for i, p in enumerate(points, start=1):
        click(told, f".row button:nth-child({i + 1})")
        load, length, stress, share = reading(told)
        assert load == pytest.approx(p["load"], rel=5e-3)
        assert length == pytest.approx(p["length"], abs=0.005)
        assert share == pytest.approx(1 / p["margin"][p["governing"]], rel=5e-3)
        assert stress == pytest.approx(p[p["governing"]], rel=5e-3)
        tag = told.run("document.querySelector('.tag.size').textContent")
        assert tag == f"{length:.2f} mm inside hooks"


def test_slider_moves_the_spring_by_keys(gate):
    s = summary(gate)
    before = gate.pixels(".frame")
    gate.run("document.getElementById('load').focus()")
    for _ in range(5):
        gate.key("ArrowLeft")
    load, length, _, _ = reading(gate)
    top = s["along_the_wire"]["points"][-1]["load"]
    assert load == pytest.approx(0.995 * top, rel=5e-3)
    assert length == pytest.approx(length_between(curve(s), 0.995 * top), abs=0.006)
    slide(gate, 0.0)
    assert reading(gate)[:2] == (0.0, pytest.approx(s["geometry"]["free_length"], abs=0.005))
    after = gate.pixels(".frame")
    assert (np.abs(after - before).max(axis=2) > 24).mean() > 0.05


def curve(s):
    return tuple(CurvePoint(**p) for p in s["load_line"]["curve"])


def test_hooks_alone_give_below_the_initial_tension(told):
    tension = summary(told)["initial_tension"]["force"]
    free = summary(told)["geometry"]["free_length"]
    for share in (0.3, 0.9):
        slide(told, share * tension / 30)
        load, length, stress, _ = reading(told)
        assert load < tension
        assert length == pytest.approx(length_between(curve(summary(told)), load), abs=0.006)
        assert free < length
        # the coils keep what they were wound with, a little more than the initial tension that
        # the straight part of the curve points back to: Bergsträsser's shear
        first, wound = summary(told)["points"][0], summary(told)["contact"]["pressing_free"]
        assert tension < wound < 1.1 * tension
        book = first["body_shear"] / first["load"]
        assert 0.98 * book * tension < stress < 1.02 * book * wound


def test_marker_in_the_load_diagram_follows_the_slider(told):
    def marker():
        return told.run(
            "['cx', 'cy'].map(k => +document.getElementById('load-length-here').getAttribute(k))"
        )

    for i, point in ((2, 0), (3, 1)):
        click(told, f".row button:nth-child({i})")
        mark = told.run(
            "(() => { const e = document.querySelectorAll("
            f"'#load-over-length svg.chart circle.c-point')[{point}]; "
            "return ['cx', 'cy'].map(k => +e.getAttribute(k)); })()"
        )
        assert marker() == pytest.approx(mark, abs=0.1)


def filled(page, colour):
    return (np.abs(page.pixels(".frame") - colour).max(axis=2) < 12).sum()


def test_section_cut_shows_cut_wire_and_goes_away_again(gate):
    click(gate, "[data-view=side]")
    before = filled(gate, CUT)  # a shaded edge may happen to have the colour
    click(gate, "#cut")
    d, length = 1.2, summary(gate)["geometry"]["free_length"]
    shown = gate.run("document.querySelector('.frame').clientWidth")
    # two rows of cut coils, each at least half a wire section; the view is at most 3 lengths wide
    least = 2 * 18 * 0.5 * np.pi / 4 * (d * shown / (3 * length)) ** 2
    assert filled(gate, CUT) > before + least
    click(gate, "#cut")
    assert filled(gate, CUT) == before


def test_section_cuts_the_parts_too(page, files):
    page.open(files["mates"])
    click(page, "[data-view=side]")
    click(page, "#cut")
    # 12 mm of rod in a bore of 22 mm: the rod's face is 10 mm wide over most of the body
    s = summary(page)["geometry"]
    shown = page.run("document.querySelector('.frame').clientWidth")
    per_mm = shown / (3 * s["free_length"])
    assert filled(page, CUT_PART) > 0.5 * 10 * s["body_length"] * per_mm**2
    click(page, "#parts")
    assert filled(page, CUT_PART) < 20
    assert filled(page, CUT) > 500


def test_another_length_can_stand_beside_as_a_ghost(gate):
    slide(gate, 1.0)
    before = gate.pixels(".frame")
    gate.run(
        "(() => { const v = document.getElementById('canvas').view; "
        "v.haunt(v.data, v.data.states[0]); })()"
    )
    haunted = gate.pixels(".frame")
    assert (np.abs(haunted - before).max(axis=2) > 24).mean() > 0.01
    # a ghost is seen through: it hides nothing of the wire it stands before
    assert (np.ptp(haunted, axis=2) > 40).sum() > 0.8 * (np.ptp(before, axis=2) > 40).sum()
    gate.run("document.getElementById('canvas').view.haunt(null)")
    assert np.abs(gate.pixels(".frame") - before).max() < 8
    assert gate.log == []


def test_over_the_allowable_is_painted_so(page, files):
    """Crimson where the page says over, none of it within: the ramp's own hues."""

    def crimson():
        red, green, blue = np.moveaxis(page.pixels(".frame"), 2, 0)
        return ((red > 60) & (green < 0.35 * red) & (blue < 0.6 * red)).sum()

    page.open(files["over"])
    click(page, "#names")
    assert reading(page)[3] > 1
    assert crimson() > 500
    slide(page, 0.2)
    assert reading(page)[3] < 0.8
    assert crimson() < 20


def test_mating_parts_length_and_marks_can_be_hidden(gate):
    full = drawn(gate.pixels(".frame")).sum()
    click(gate, "#parts")
    fewer = drawn(gate.pixels(".frame")).sum()
    assert fewer < 0.95 * full
    click(gate, "#sizes")
    click(gate, "#names")
    assert gate.run("[...document.querySelectorAll('.tag')].every(e => e.hidden)")
    assert drawn(gate.pixels(".frame")).sum() < fewer


def test_view_fits_from_every_direction(page, files):
    page.open(files["mates"])
    for direction in ("angle", "side", "top", "end"):
        click(page, f"[data-view={direction}]")
        seen = drawn(page.pixels(".frame"))
        seen[:8, :8] = seen[-8:, :8] = seen[:8, -8:] = seen[-8:, -8:] = False  # round corners
        assert not seen[[0, -1]].any()
        assert not seen[:, [0, -1]].any()
        assert seen.mean() > 0.02


def test_keys_turn_and_zoom_the_view(gate):
    gate.run("document.getElementById('canvas').focus()")
    first = gate.pixels(".frame")
    gate.key("ArrowRight")
    turned = gate.pixels(".frame")
    gate.key("+")
    larger = gate.pixels(".frame")
    gate.key("0")
    again = gate.pixels(".frame")
    assert (np.abs(turned - first).max(axis=2) > 24).mean() > 0.02
    assert drawn(larger).sum() > 1.05 * drawn(turned).sum()
    assert np.abs(again - first).max() < 8


def test_wheel_scrolls_the_page_until_the_view_has_the_focus(gate):
    x, y = (v + 150 for v in corner(gate, "#canvas"))

    def wheel():
        gate.call("Input.dispatchMouseEvent", type="mouseWheel", x=x, y=y, deltaX=0, deltaY=120)
        gate.settle()
        gate.settle()

    before = gate.pixels(".frame")
    gate.run("scrollTo(0, 0)")
    wheel()
    gate.until("scrollY > 50")
    gate.run("scrollTo(0, 0)")
    assert np.abs(gate.pixels(".frame") - before).max() < 8
    gate.run("document.getElementById('canvas').focus({preventScroll: true}); scrollTo(0, 0)")
    wheel()
    assert gate.run("scrollY") == 0
    assert drawn(gate.pixels(".frame")).sum() < 0.97 * drawn(before).sum()


def test_tab_reaches_everything_and_focus_is_seen(gate):
    gate.run("document.activeElement.blur()")
    seen = []
    for _ in range(18):
        gate.key("Tab")
        seen.append(
            gate.run(
                "document.activeElement.id || document.activeElement.className || "
                "document.activeElement.textContent"
            )
        )
        assert gate.run("getComputedStyle(document.activeElement).outlineStyle") != "none"
    assert seen[:2] == ["skip", "theme"]
    assert seen.index("canvas") < seen.index("load")
    assert {"load", "play", "kind", "cut", "parts", "sizes", "names"} <= set(seen)


def test_pointing_at_the_wire_reads_its_stress(gate):
    click(gate, "#parts")
    pixels = gate.pixels(".frame")
    # the stressed wire is blue, all else nearly grey
    wire = np.argwhere(pixels[:, :, 2] - pixels[:, :, 0] > 45)
    y, x = wire[len(wire) // 2]
    left, top = corner(gate, "#canvas")
    gate.mouse("mouseMoved", left + int(x), top + int(y))
    gate.until("document.getElementById('probe').textContent.includes('MPa')")
    found = re.search(
        r"(\w+[, \w]*), ([\d.]+) mm from the first end’s cut: \w+ [\d.]+ MPa, ([\d.]+) % of its "
        r"allowable \(within\); von Mises ([\d.]+) MPa",
        text(gate, "probe"),
    )
    assert found, text(gate, "probe")
    last = summary(gate)["along_the_wire"]["points"][-1]
    assert 0 <= float(found[2]) <= summary(gate)["geometry"]["wire_length"]
    assert 0 < float(found[3]) <= 101 / last["margin"][last["governing"]]
    assert float(found[4]) <= 1.01 * last["von_mises"]


def test_play_runs_and_stops(page, files):
    # the page's clock and frames are the test's own: no race with a slow browser
    page.call(
        "Page.addScriptToEvaluateOnNewDocument",
        source="""
        let now = 0, waiting = [];
        performance.now = () => now;
        window.requestAnimationFrame = (call) => waiting.push(call);
        window.frame = (time) => {
          now = time;
          const due = waiting;
          waiting = [];
          for (const call of due) call(now);
        };""",
    )
    page.open(files["gate"], drawn=False)
    page.run("frame(0)")

    def at(seconds):
        page.run(f"frame({1000 * seconds})")
        return float(page.run("document.getElementById('load').value"))

    def state(name, attribute):
        return page.run(f"document.getElementById('{name}').getAttribute('{attribute}')")

    assert at(1) == 1000
    page.run("document.getElementById('play').click()")
    # three seconds up, three down; a frame may be older than the click that asked for it
    times, loads = (0.99, 1.0, 2.5, 4.0, 5.5, 7.0), (0, 0, 500, 1000, 500, 0)
    assert [at(t) for t in times] == [pytest.approx(x, abs=1) for x in loads]
    assert state("play", "aria-pressed") == "true"
    assert state("reading", "aria-live") == "off"
    at(8.0)
    page.run("document.getElementById('play').click()")
    stopped = at(8.0)
    assert at(9.0) == stopped
    assert state("play", "aria-pressed") == "false"
    assert state("reading", "aria-live") == "polite"


def test_paint_can_be_bending(gate):
    choose(gate, "kind", "axial")
    load, _, shown, share = reading(gate)
    (last,) = [p for p in summary(gate)["along_the_wire"]["points"] if p["load"] == load]
    assert shown == pytest.approx(last["hook_bending"], rel=5e-3)
    assert share == pytest.approx(1 / last["margin"]["hook_bending"], rel=5e-3)
    assert "greatest bending" in text(gate, "reading")


def test_specification_and_summary_are_copied(gate):
    for name in ("spec-text", "summary"):
        gate.run("document.getElementById('copied').textContent = ''")
        press(gate, f"[data-copy={name}]")
        gate.until("document.getElementById('copied').textContent === 'Copied.'")


def test_two_fingers_zoom_and_shift_moves(gate):
    before = gate.pixels(".frame")
    x, y = (v + 150 for v in corner(gate, "#canvas"))

    def touch(kind, *points):
        gate.call(
            "Input.dispatchTouchEvent",
            type=kind,
            touchPoints=[{"x": u, "y": v, "id": i} for i, (u, v) in enumerate(points)],
        )

    touch("touchStart", (x, y), (x + 60, y))
    touch("touchMove", (x - 40, y), (x + 100, y))
    touch("touchEnd")
    gate.settle()
    assert drawn(gate.pixels(".frame")).sum() > 1.1 * drawn(before).sum()
    gate.run("document.getElementById('canvas').focus({preventScroll: true})")
    gate.key("0")
    gate.settle()
    assert np.abs(gate.pixels(".frame") - before).max() < 8
    # what is seen follows the hand: 30 px to the right
    view = "document.getElementById('canvas').view"
    place = f"{view}.stage.camera.screen([0, 0, 0])"
    first = gate.run(place)
    for kind, u, buttons in (("mousePressed", x, 1), ("mouseMoved", x + 30, 1)):
        gate.call(
            "Input.dispatchMouseEvent",
            type=kind,
            x=u,
            y=y,
            buttons=buttons,
            button="left",
            modifiers=8,
            clickCount=1,
        )
    gate.mouse("mouseReleased", x + 30, y)
    assert gate.run(place) == pytest.approx([first[0] + 30, first[1]], abs=0.5)

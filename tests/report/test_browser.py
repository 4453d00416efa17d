"""The view in a real browser: it draws, moves, and follows hand and keys, without the network."""

from __future__ import annotations

import re

import numpy as np
import pytest

from tests.report.acting import choose, click, corner, drawn, press, reading, slide, summary, text

# the colour that fills a cut wire, scene colours aside
CUT = np.array([0xE8, 0xA3, 0x3D])


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


def test_working_points_read_as_in_the_summary(gate):
    points = summary(gate)["along_the_wire"]["points"]
    for i, p in enumerate(points, start=1):
        click(gate, f".row button:nth-child({i + 1})")
        load, length, most = reading(gate)
        assert load == pytest.approx(p["load"], rel=5e-3)
        assert length == pytest.approx(p["length"], abs=0.005)
        assert most == pytest.approx(p["von_mises"], rel=5e-3)
        tag = gate.run("document.querySelector('.tag.size').textContent")
        assert tag == f"{length:.2f} mm inside hooks"


def test_slider_moves_the_spring_by_keys(gate):
    s = summary(gate)
    before = gate.pixels(".frame")
    gate.run("document.getElementById('load').focus()")
    for _ in range(5):
        gate.key("ArrowLeft")
    load, length, _ = reading(gate)
    top = s["along_the_wire"]["points"][-1]["load"]
    assert load == pytest.approx(0.995 * top, rel=5e-3)
    tension, rate = s["initial_tension"]["force"], s["along_the_wire"]["rate"]
    assert length == pytest.approx(
        s["geometry"]["free_length"] + (0.995 * top - tension) / rate, abs=0.006
    )
    slide(gate, 0.0)
    assert reading(gate)[:2] == (0.0, pytest.approx(s["geometry"]["free_length"], abs=0.005))
    after = gate.pixels(".frame")
    assert (np.abs(after - before).max(axis=2) > 24).mean() > 0.05


def test_nothing_moves_below_the_initial_tension(gate):
    tension = summary(gate)["initial_tension"]["force"]
    free = summary(gate)["geometry"]["free_length"]
    for share in (0.3, 0.9):
        slide(gate, share * tension / 30)
        load, length, most = reading(gate)
        assert load < tension
        assert length == pytest.approx(free, abs=0.005)
        # the coils keep what they were wound with: Bergsträsser's shear, by von Mises √3 of it
        first = summary(gate)["points"][0]
        book = first["body_shear"] * tension / first["load"]
        assert most == pytest.approx(book * 3**0.5, rel=0.02)


def test_marker_in_the_load_diagram_follows_the_slider(gate):
    def marker():
        return gate.run(
            "['cx', 'cy'].map(k => +document.getElementById('load-marker').getAttribute(k))"
        )

    for i, point in ((2, 0), (3, 1)):
        click(gate, f".row button:nth-child({i})")
        mark = gate.run(
            "(() => { const e = document.querySelectorAll("
            f"'#load-over-length svg.chart circle.point')[{point}]; "
            "return ['cx', 'cy'].map(k => +e.getAttribute(k)); })()"
        )
        assert marker() == pytest.approx(mark, abs=0.1)


def test_section_cut_shows_cut_wire_and_goes_away_again(gate):
    def cut():
        return (np.abs(gate.pixels(".frame") - CUT).max(axis=2) < 12).sum()

    click(gate, "[data-view=side]")
    assert cut() == 0
    click(gate, "#cut")
    d, length = 1.2, summary(gate)["geometry"]["free_length"]
    shown = gate.run("document.querySelector('.frame').clientWidth")
    # two rows of cut coils, each at least half a wire section; the view is at most 3 lengths wide
    least = 2 * 18 * 0.5 * np.pi / 4 * (d * shown / (3 * length)) ** 2
    assert cut() > least
    click(gate, "#cut")
    assert cut() == 0


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
    # viridis is far from grey: strongly coloured pixels are wire
    wire = np.argwhere(np.ptp(pixels, axis=2) > 120)
    y, x = wire[len(wire) // 2]
    left, top = corner(gate, "#canvas")
    gate.mouse("mouseMoved", left + int(x), top + int(y))
    gate.until("document.getElementById('probe').textContent.includes('MPa')")
    found = re.search(
        r"(\w+[.\w]*), ([\d.]+) mm from the cut end of A: von Mises ([\d.]+) MPa",
        text(gate, "probe"),
    )
    assert found
    assert 0 <= float(found[2]) <= summary(gate)["geometry"]["wire_length"]
    assert float(found[3]) <= 1.01 * summary(gate)["along_the_wire"]["points"][-1]["von_mises"]


def test_play_runs_and_stops(gate):
    click(gate, "#play")
    gate.until("document.getElementById('load').value < 950")
    assert gate.run("document.getElementById('play').getAttribute('aria-pressed')") == "true"
    assert gate.run("document.getElementById('reading').getAttribute('aria-live')") == "off"
    click(gate, "#play")
    value = gate.run("document.getElementById('load').value")
    gate.settle()
    assert gate.run("document.getElementById('load').value") == value


def test_paint_can_be_bending(gate):
    choose(gate, "kind", "axial")
    peaks = summary(gate)["along_the_wire"]["peaks"]
    most = max(p["per_newton"] for p in peaks if p["kind"] == "axial")
    load, _, shown = reading(gate)
    assert shown == pytest.approx(most * load, rel=5e-3)
    assert "bending" in text(gate, "scale-name")


def test_specification_and_summary_are_copied(gate):
    for name in ("spec-text", "summary"):
        gate.run("document.getElementById('copied').textContent = ''")
        press(gate, f"[data-copy={name}]")
        gate.until("document.getElementById('copied').textContent === 'Copied.'")

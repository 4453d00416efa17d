"""What a reader does with the page, and what a picture of it shows."""

from __future__ import annotations

import json
import re
from pathlib import Path

import numpy as np


def summary(page):
    return json.loads(page.run("document.getElementById('summary').textContent"))


def text(page, name):
    return page.run(f"document.getElementById('{name}').textContent")


def reading(page):
    """Return load N, length mm, stress MPa and its share of the allowable as the page says them."""
    found = re.match(
        r"([\d.]+) N, ([\d.]+) mm inside hooks, greatest \w+ ([\d.]+) MPa, "
        r"([\d.]+) % of its allowable \((within|near|over)\)",
        text(page, "reading").replace("\xa0", " "),
    )
    assert found, text(page, "reading")
    load, length, stress, share = (float(x) for x in found.groups()[:4])
    return load, length, stress, share / 100


def click(page, selector):
    page.run(f"document.querySelector({selector!r}).click()")
    page.settle()


def press(page, selector):
    """Click as a hand does; some things a page may only do then."""
    x, y = page.run(
        f"(() => {{ const e = document.querySelector({selector!r}); e.scrollIntoView({{block: "
        "'center'}); const r = e.getBoundingClientRect(); return [r.x + r.width / 2, r.y + "
        "r.height / 2]; })()"
    )
    for kind, buttons in (("mouseMoved", 0), ("mousePressed", 1), ("mouseReleased", 0)):
        page.mouse(kind, x, y, buttons)


def background(pixels):
    return pixels[3, 3]


def drawn(pixels):
    """Return which pixels differ from the background, ``(h, w) bool``."""
    return np.abs(pixels - background(pixels)).max(axis=2) > 24


def slide(page, share):
    """Move the slider to a share of the stroke's load."""
    page.run(
        f"(() => {{ const e = document.getElementById('load'); e.value = {1000 * share}; "
        "e.dispatchEvent(new Event('input')); })()"
    )


def choose(page, name, value):
    """Choose an entry of a list."""
    page.run(
        f"(() => {{ const e = document.getElementById({name!r}); e.value = {value!r}; "
        "e.dispatchEvent(new Event('change')); })()"
    )


def corner(page, selector):
    """Return where an element begins in the window, px from the left and the top."""
    return page.run(
        f"(() => {{ const r = document.querySelector({selector!r})"
        ".getBoundingClientRect(); return [r.x, r.y]; })()"
    )


def height(page, selector):
    """Return the height at which an element is shown, px; 0 if it is not."""
    return page.run(f"document.querySelector({selector!r}).getBoundingClientRect().height")


def paper(page):
    """Return the page's background, 0 to 255."""
    colour = page.run("getComputedStyle(document.body).backgroundColor")
    return np.mean([int(x) for x in re.findall(r"\d+", colour)[:3]])


def script(name):
    """Return the code in a file beside this one."""
    return (Path(__file__).parent / f"{name}.js").read_text("utf-8")


def cut(page):
    """Return what does not fit on a page as it stands: nothing is cut, nothing scrolls sideways."""
    return page.run((Path(__file__).parent / "cut.js").read_text("utf-8"))

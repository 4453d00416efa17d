"""The stress ramp told apart by every kind of colour vision, and in grey."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from springgeo import colours

ROOT = Path(colours.__file__).parent
# Machado, Oliveira and Fernandes: A physiologically-based model for simulation of color vision
# deficiency, IEEE Trans. Visualization and Computer Graphics 15 (2009) 1291, severity 1.0, on
# linear RGB
SIGHT = {
    "full": np.eye(3),
    "protanopia": [
        [0.152286, 1.052583, -0.204868],
        [0.114503, 0.786281, 0.099216],
        [-0.003882, -0.048116, 1.051998],
    ],
    "deuteranopia": [
        [0.367322, 0.860646, -0.227968],
        [0.280085, 0.672501, 0.047413],
        [-0.011820, 0.042940, 0.968881],
    ],
    "tritanopia": [
        [1.255528, -0.076749, -0.178779],
        [-0.078411, 0.930809, 0.147602],
        [0.004733, 0.691367, 0.303900],
    ],
}


def lab(names, sight="full"):
    """CIE L*, a*, b* (CIE 15, D65) of sRGB colours (IEC 61966-2-1) as an eye sees them."""
    rgb = np.array([colours.rgb(x) for x in names])
    linear = np.where(rgb <= 0.04045, rgb / 12.92, ((rgb + 0.055) / 1.055) ** 2.4)
    linear = np.clip(linear @ np.array(SIGHT[sight]).T, 0, 1)
    to_xyz = [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
    t = linear @ np.transpose(to_xyz) / [0.95047, 1.0, 1.08883]
    f = np.where(t > (6 / 29) ** 3, np.cbrt(t), t * 841 / 108 + 4 / 29)
    x, y, z = f.T
    return np.stack([116 * y - 16, 500 * (x - y), 200 * (y - z)], axis=1)


@pytest.mark.parametrize("sight", SIGHT)
def test_ramp_darkens_all_the_way(sight):
    lightness = lab(colours.ramp(), sight)[:, 0]
    # a rounded channel may hold a step back by a tenth
    assert np.diff(lightness).max() < 0.1
    assert (lightness[:-25] - lightness[25:]).min() > 1.5


@pytest.mark.parametrize("sight", SIGHT)
def test_within_near_and_over_are_told_apart(sight):
    share = (np.arange(250) + 0.5) * colours.TOP / 250
    seen = lab(colours.ramp(), sight)
    groups = [
        seen[share < colours.NEAR],
        seen[(share > colours.NEAR) & (share < 1)],
        seen[share > 1],
    ]
    # CIE 1976 differences: 2.3 is just seen side by side
    for a, b in pairwise(groups):
        apart = np.linalg.norm(a[:, None] - b[None], axis=2)
        assert apart.min() > 15
        assert np.linalg.norm(a.mean(axis=0) - b.mean(axis=0)) > 25


@pytest.mark.parametrize("sight", SIGHT)
def test_bending_and_shear_are_told_apart(sight):
    for shade in (0, 1):
        a, b = lab([colours.INKS[k][shade] for k in ("bending", "shear")], sight)
        assert np.linalg.norm(a - b) > 40


def test_steps_of_the_ramp_lie_at_the_words():
    ramp = colours.ramp()
    shares = [0.0, 0.79, 0.801, 0.999, 1.001, 1.25, 9.0]
    hues = [np.round(lab([colours.of_share(x)])[0]) for x in shares]
    assert colours.of_share(0.0) == ramp[0]
    assert colours.of_share(9.0) == ramp[-1]
    # blue, orange, crimson: the sign of b*, then a step in lightness
    assert [h[2] > 40 for h in hues] == [False, False, True, True, False, False, False]
    assert [h[0] < 40 for h in hues] == [False, False, False, False, True, True, True]
    words = [colours.word(x) for x in shares]
    assert words == ["within", "within", "near", "near", "over", "over", "over"]


def test_no_other_file_names_a_colour():
    found = [
        f"{file.relative_to(ROOT)}: {line.strip()}"
        for kind in ("py", "css", "js", "html")
        for file in sorted(ROOT.rglob(f"*.{kind}"))
        if file.name != "colours.py" or file.parent != ROOT
        for line in file.read_text("utf-8").splitlines()
        if re.search(r"""#[0-9a-fA-F]{6}\b|["':]\s*#[0-9a-fA-F]{3}\b""", line)
    ]
    assert not found

"""Long bodies drawn broken: whole coils left out, true dimensions, both ends as they are."""

from __future__ import annotations

import io
import math
from functools import cache

import numpy as np
import pytest

from springgeo import Spring
from springgeo.drawing import drawing_files, sheet
from springgeo.drawing.view.broken import MOST_COILS, shown_geometry

pytest.importorskip("shapely")


@cache
def spring(coils: float, hand: str = "right", b: str = "full-twisted-loop") -> Spring:
    return Spring.from_dict(
        {
            "wire": {"material": "astm-a228", "diameter": 1},
            "body": {"mean_diameter": 8, "coils": coils, "hand": hand, "initial_tension": 5},
            "ends": {"first": {"style": "machine-half-loop"}, "second": {"style": b}},
            "service": {"loads": [10, 15]},
        }
    )


@pytest.mark.parametrize("hand", ["right", "left"])
def test_both_ends_stand_as_on_the_whole_spring(hand: str) -> None:
    g = spring(150.3, hand).model.geometry
    short, gap = shown_geometry(g)
    assert short.turns < 30
    for s in (0.0, 3.0, 11.0):
        at_a = short.path.point(np.array([s])), g.path.point(np.array([s]))
        at_b = (p.point(np.array([p.length - s]))[0] for p in (short.path, g.path))
        np.testing.assert_allclose(*at_a, atol=1e-9)
        np.testing.assert_allclose(np.subtract(*at_b), [0, 0, -gap.skip], atol=1e-9)


def test_a_short_body_is_drawn_whole() -> None:
    s = spring(MOST_COILS)
    page = sheet(s.model, s.summary())
    assert not [x for x in page.lines if x.layer == "BREAK"]
    assert "broken" not in " ".join(t.text for t in page.texts)


@pytest.mark.parametrize("b", ["full-twisted-loop", "threaded-plug"])
def test_the_dimensions_are_true_and_the_sheet_says_so(b: str) -> None:
    s = spring(150.3, b=b)
    summary = s.summary()
    page = sheet(s.model, summary)
    assert len([x for x in page.lines if x.layer == "BREAK"]) >= 2
    assert "drawn broken" in " ".join(t.text for t in page.texts)
    geometry = summary.model_dump()["geometry"]
    across = {"geometry.free_length", "geometry.body_length"}
    for dim in page.linear:
        k = 1 if dim.upright else 0
        assert dim.value == pytest.approx(geometry[dim.key.partition(".")[2]], rel=1e-9)
        drawn = (dim.end[k] - dim.start[k]) / page.scale
        if dim.key in across:
            assert drawn < 0.3 * dim.value
        else:
            assert drawn == pytest.approx(dim.value, rel=1e-9)
    # nothing of the spring inside the gap
    waves = [x.points for x in page.lines if x.layer == "BREAK"][:2]
    left, right = sorted(waves, key=lambda w: w[0, 0])
    for line in (x.points for x in page.lines if x.layer == "OUTLINE"):
        inside = (line[:, 1] > left[:, 1].min()) & (line[:, 1] < left[:, 1].max())
        for x, y in line[inside]:
            low = np.interp(y, left[:, 1], left[:, 0])
            high = np.interp(y, right[:, 1], right[:, 0])
            assert not low + 1e-6 < x < high - 1e-6


def test_a_dxf_entity_over_the_gap_shows_the_true_length() -> None:
    ezdxf = pytest.importorskip("ezdxf")
    s = spring(150.3)
    data = drawing_files(s.model, s.summary(), "dxf")[0]
    doc = ezdxf.read(io.StringIO(data.decode()))
    texts = [d.dxf.text for d in doc.modelspace().query("DIMENSION") if d.dimtype not in (2, 5)]
    free = s.summary().geometry.free_length
    (over,) = [t for t in texts if "L0" in t]
    assert "<>" not in over
    assert math.isclose(float(over.strip("()").split()[1]), free, abs_tol=0.006)
    assert sum("<>" in t for t in texts) >= 4

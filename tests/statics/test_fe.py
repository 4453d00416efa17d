"""Against 3-D finite elements: six springs of index 5 to 12 with half, raised and full hooks."""

from __future__ import annotations

import numpy as np
import pytest

from springgeo.statics import StressProfile


def test_centreline_is_that_of_the_reference(fe):
    case, path, _ = fe
    assert path.joint_gaps().max() < 1e-9
    assert path.joint_angles().max() < 1e-9
    g = case["geometry"]
    apex = path.length / 2 - g["R"] * np.radians(g["loop_end_angle_deg"] - 90)
    assert apex == pytest.approx(g["apex_arclength_from_mid"], abs=1e-6)


def test_rate(fe):
    case, _, result = fe
    assert result.rate == pytest.approx(case["rate"]["FE"], rel=1e-3)


@pytest.mark.parametrize(
    ("region", "quantity", "reference", "bound"),
    [
        ("body", "shear", "body_max_shear_tresca", 5e-4),
        ("body", "von_mises", "body_von_mises", 2e-3),
        ("A", "axial", "A_max_axial", 2e-3),
        ("A", "von_mises", "A_von_mises", 1e-3),
        ("B", "shear", "B_max_shear_tresca", 2e-3),
        ("B", "von_mises", "B_von_mises", 5e-3),
    ],
)
def test_peak(fe, region, quantity, reference, bound):
    case, _, result = fe
    peak = getattr(result.peaks[region], quantity)
    assert peak.value == pytest.approx(case["stress"][reference]["value"], rel=bound)


def test_peak_von_mises_at_b(fe):
    # like for like: the reference listed its B peaks at its own sections, the last of them short
    # of the joint with the loop, where the stress climbs steeply toward A
    case, path, result = fe
    g, d = case["geometry"]["segment_lengths"], case["geometry"]["wire_d"]
    start = path.length / 2 + g["body"]
    seen = max(
        v["s_from_segment_start_over_d"]
        for key, v in case["stress"].items()
        if key.startswith("B_")
    )
    scanned = (result.s >= start - d / 2) & (result.s <= start + seen * d)
    peak = result.stress.von_mises[scanned].max()
    assert peak == pytest.approx(case["stress"]["B_von_mises"]["value"], rel=5e-3)


def test_stress_where_bend_meets_hook(fe):
    # the joint itself, read off the reference's profile
    case, path, result = fe
    g, p = case["geometry"]["segment_lengths"], case["profile"]
    middle = path.length / 2
    exit_s = middle + g["body"] + g["bend"]
    ours = np.interp(exit_s, result.s, result.stress.von_mises)
    theirs = np.interp(exit_s - middle, p["s"], p["max_von_mises"])
    assert ours == pytest.approx(theirs, rel=1.5e-2)


def test_place_of_peaks(fe):
    case, path, result = fe
    d, stress = case["geometry"]["wire_d"], case["stress"]
    a = result.peaks["A"].axial
    along = abs(a.s - path.length / 2) - (path.length / 2 - path.pieces[-1].segment.length)
    assert a.label == "loop"
    assert along / d == pytest.approx(
        stress["A_max_axial"]["s_from_segment_start_over_d"], abs=0.15
    )
    assert abs(a.angle) < 0.1
    b = result.peaks["B"].shear
    theirs = stress["B_max_shear_tresca"]["angle_from_curvature_normal_deg"]
    assert b.label == "bend"
    assert abs(np.degrees(b.angle)) == pytest.approx(abs(theirs), abs=6)


@pytest.mark.parametrize(
    ("column", "reference", "bound"),
    [
        ("max_axial", "max_abs_sigma_axial", 0.02),
        ("max_shear", "max_tresca_shear", 0.0125),
        ("von_mises", "max_von_mises", 0.015),
    ],
)
def test_profile_along_the_hook(fe, column, reference, bound):
    case, path, result = fe
    table, p = StressProfile.of(result, 1.0), case["profile"]
    ours = np.interp(np.array(p["s"]) + path.length / 2, table.s, getattr(table, column))
    theirs = np.array(p[reference])
    assert np.abs(ours - theirs).max() < bound * theirs.max()
    assert np.abs(ours - theirs).mean() < 0.003 * theirs.max()

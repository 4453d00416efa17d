"""What the search for a spring must not be led astray by, each from data made for it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from springgeo.curve.frame import Array
from springgeo.ends import registry
from springgeo.ends.protocol import BodyEnd
from springgeo.errors import SpecError
from springgeo.files.surface import Surface
from springgeo.recovery.coiled.body import extent, fitted_body
from springgeo.recovery.coiled.helix import HelixTube
from springgeo.recovery.end.fit import Candidate, EndPoints, built, fit
from springgeo.recovery.end.judged import Judged
from springgeo.recovery.ends import EndFound, polished
from springgeo.recovery.recover import shape_of_surface
from tests.recover.proof import run, trial

_TURN = 2 * np.pi


@pytest.mark.parametrize("seed", range(8, 12))
def test_coils_end_where_they_do_though_most_of_them_was_not_seen(seed: int) -> None:
    """Thirteen coils, 60 % of their surface in holes: each end to a quarter of a coil."""
    rng = np.random.default_rng(seed)
    tube = HelixTube(np.eye(3), np.zeros(3), 5.0, 1.002, 0.5, 1)
    t, phi = rng.uniform(0, 13 * _TURN, 12_000), rng.uniform(0, _TURN, 12_000)
    out = np.column_stack([np.cos(t), np.sin(t), np.zeros_like(t)])
    x = tube.point(t) + 0.5 * (np.cos(phi)[:, None] * out + np.sin(phi)[:, None] * np.eye(3)[2])
    seen = np.ones(len(x), dtype=bool)
    while 1 - seen.mean() < 0.6:
        middle = x[rng.integers(len(x))]
        seen &= np.linalg.norm(x - middle, axis=1) > rng.uniform(0.7, 2.0)
    low, high = extent(tube, x[seen], 0.03)
    assert low == pytest.approx(0.0, abs=0.25 * _TURN)
    assert high == pytest.approx(13 * _TURN, abs=0.25 * _TURN)


def test_coils_are_told_from_a_hook_far_longer_than_they_are() -> None:
    """Five coils, and beyond them a straight wire as long as sixty: they count, not it."""
    rng = np.random.default_rng(0)
    tube = HelixTube(np.eye(3), np.zeros(3), 5.0, 1.002, 0.5, 1)
    t, phi = rng.uniform(0, 5 * _TURN, 9_000), rng.uniform(0, _TURN, 9_000)
    out = np.column_stack([np.cos(t), np.sin(t), np.zeros_like(t)])
    coils = tube.point(t) + 0.5 * (np.cos(phi)[:, None] * out + np.sin(phi)[:, None] * np.eye(3)[2])
    z, about = rng.uniform(8.5, 65, 3_000), rng.uniform(0, _TURN, 3_000)
    wire = np.column_stack([5 + np.cos(about) / 2, np.sin(about) / 2, z])
    body = fitted_body(tube, np.vstack([coils, wire]))
    assert body.tube.coil_radius == pytest.approx(5.0, abs=1e-4)
    assert body.low == pytest.approx(0.0, abs=0.3 * _TURN)
    assert body.high == pytest.approx(5 * _TURN, abs=0.3 * _TURN)


@pytest.mark.parametrize("leg", [False, True])
def test_coils_go_on_beyond_three_of_which_hardly_anything_was_seen(leg: bool) -> None:
    """Of coils 8 to 11.5 one point in twenty was seen; a leg goes on along them, perhaps."""
    rng = np.random.default_rng(0)
    tube = HelixTube(np.eye(3), np.zeros(3), 5.0, 1.002, 0.5, 1)
    t, phi = rng.uniform(0, 13 * _TURN, 12_000), rng.uniform(0, _TURN, 12_000)
    t = t[(t < 8 * _TURN) | (t > 11.5 * _TURN) | (rng.uniform(size=len(t)) < 0.05)]
    phi = phi[: len(t)]
    out = np.column_stack([np.cos(t), np.sin(t), np.zeros_like(t)])
    x = tube.point(t) + 0.5 * (np.cos(phi)[:, None] * out + np.sin(phi)[:, None] * np.eye(3)[2])
    if leg:
        z = rng.uniform(13.5, 24, 300)
        about = rng.uniform(0, _TURN, 300)
        x = np.vstack([x, np.column_stack([5 + np.cos(about) / 2, np.sin(about) / 2, z])])
    body = fitted_body(tube, x + 0.03 * rng.normal(size=x.shape))
    assert body.low == pytest.approx(0.0, abs=0.5 * _TURN)
    assert body.high == pytest.approx(13 * _TURN, abs=0.5 * _TURN)


def _on(c: Candidate, end: BodyEnd, rng: np.random.Generator) -> Array:
    """Return points on the wire of a candidate."""
    wire = built(c, end)
    assert not isinstance(wire, SpecError)
    point, tangent, _, _ = wire.at(tuple(7 * n for n in wire.counts))
    k = rng.integers(len(point), size=900)
    across = rng.normal(size=(900, 3))
    across -= tangent[k] * np.einsum("nk,nk->n", across, tangent[k])[:, None]
    across /= np.linalg.norm(across, axis=1)[:, None]
    found: Array = point[k] + end.wire_diameter / 2 * across
    return found


def test_a_style_refused_by_a_digit_is_fitted_from_the_nearest_that_it_takes() -> None:
    """As when the body, fitted anew, is a little thicker than the hook was found with."""
    end = BodyEnd(1.0, 4.0, 1.002)
    style, rng = registry.get("machine-half-loop"), np.random.default_rng(0)
    values = {"bend_radius": 1.0, "loop_radius": 4.0}
    x = _on(Candidate(style, values, 0.0), end, rng)
    refused = Candidate(style, {**values, "bend_radius": 0.499}, 0.0)
    assert isinstance(built(refused, end), SpecError)
    found = fit(refused, EndPoints(x, end, 0.01), 0.3, 12)
    assert np.isfinite(found.cost)
    assert found.values["bend_radius"] == pytest.approx(1.0, abs=0.02)


@pytest.mark.parametrize("shape", ["plane", "line", "place"])
def test_points_of_no_solid_are_refused_by_name(shape: str) -> None:
    x = np.random.default_rng(0).random((900, 3))
    x[:, {"plane": [2], "line": [1, 2], "place": [0, 1, 2]}[shape]] = 0.0
    with pytest.raises(SpecError, match="nothing in it is coiled"):
        shape_of_surface(Surface("point cloud", x, None, None), shape, None)


@pytest.mark.slow
def test_a_hook_hangs_together_over_a_leg_that_has_no_corners() -> None:
    """Triangles of a straight leg reach from end to end: no corner lies between."""
    found = run(trial(27, "clean mesh"))
    for end in found["ends"]:
        assert end["found"] == end["style"]
        assert abs(end["r1"]) < 1e-3
        assert abs(end["r2"]) < 1e-3


@pytest.mark.slow
def test_a_hook_whose_bend_was_not_seen_is_the_wires_own() -> None:
    """Seed 9: joined holes over the second end's bend, 4 d and more across."""
    found = run(trial(9))
    assert abs(found["coils"]) < 0.02
    assert [e["found"] for e in found["ends"]] == [e["style"] for e in found["ends"]]


@pytest.mark.slow
def test_a_loop_is_told_from_an_eye_of_the_same_wire_by_where_it_is_cut() -> None:
    """Seed 42, a mesh with a third of its corners: the openings differ by 0.1 mm."""
    found = run(trial(42))
    assert [e["found"] for e in found["ends"]] == [e["style"] for e in found["ends"]]


@pytest.mark.slow
def test_usual_values_of_another_style_are_tried_where_those_found_are_unusual() -> None:
    """Seed 71: 59 % not seen; a loop at the side fits as a small eye of great r1 and r2."""
    found = run(trial(71))
    assert [e["found"] for e in found["ends"]] == [e["style"] for e in found["ends"]]


@pytest.mark.slow
@pytest.mark.parametrize("seed", [102, 184, 291])
def test_coils_that_stand_apart_are_looked_for_at_other_pitches_too(seed: int) -> None:
    """Pitch 1.4 to 2.4 d: at first a wire twice as thick lies near the points.

    Of seed 184 the pitch was found, but the fit ran away from the coils with a wire too thick.
    """
    found = run(trial(seed))
    assert "refused" not in found
    assert abs(found["wire_diameter"]) < 0.01
    assert abs(found["mean_diameter"]) < 0.003
    assert abs(found["coils"]) < 0.02


@pytest.mark.slow
def test_a_hook_that_lies_the_wrong_way_round_is_turned() -> None:
    """Seed 99, a clean mesh: half a turn further on a half loop leaves 2 % of the points over."""
    found = run(trial(99, "clean mesh"))
    assert abs(found["coils"]) < 1e-3
    assert all(abs(e["r2"]) < 1e-3 for e in found["ends"])


@pytest.mark.slow
def test_a_coil_that_was_hardly_seen_is_the_bodys_all_the_same() -> None:
    """Seed 418: a hook on legs as long as two coil diameters lies as well one coil further on."""
    assert abs(run(trial(418))["coils"]) < 0.02


@pytest.mark.slow
def test_coils_beyond_a_hole_in_four_are_not_taken_for_reduced_ones() -> None:
    """Seed 405, 58 % not seen; the other end's bend neither, so that its coils are not exact."""
    found = run(trial(405))
    assert abs(found["coils"]) < 0.1
    assert [e["found"] for e in found["ends"]] == [e["style"] for e in found["ends"]]


@pytest.mark.parametrize("seed", range(4))
def test_a_hook_without_a_leg_goes_along_its_limit_to_the_best_radii(seed: int) -> None:
    """Its length is the least that the radii allow, and bound to them: no value goes alone."""
    end = BodyEnd(1.0, 3.25, 1.002)
    style, rng = registry.get("machine-half-loop"), np.random.default_rng(seed)
    true = Candidate(style, {"bend_radius": 1.28, "loop_radius": 3.2, "opening": 1.3}, 0.1)
    x = np.vstack([_on(true, end, rng) for _ in range(4)])
    wire = true.wire(end)
    bend = wire.stations[0][np.argmin(np.abs(wire.stations[3] - 1.0))]
    x = x[np.linalg.norm(x - bend, axis=1) > 2.0]
    start = Candidate(style, {"bend_radius": 1.57, "loop_radius": 3.05, "opening": 1.34}, 0.0)
    own = start.wire(end).shape.as_built(["hook_length"])["hook_length"]
    stuck = replace(start, values={**start.values, "hook_length": float(own)})
    data = EndPoints(x + 0.07 * rng.normal(size=x.shape), end, 0.07)
    found, best = (
        polished(EndFound(Judged(c, 0.0, 0.0, 0.0, 0.0), data, (), True), data)
        for c in (stuck, replace(true, values={**true.values, "hook_length": float(own)}))
    )
    assert found.best.chi2 == pytest.approx(best.best.chi2, rel=0.01)
    assert found.candidate.values["loop_radius"] == pytest.approx(3.2, rel=0.05)


def test_exact_points_are_followed_to_the_last_digits_from_nearby() -> None:
    """The first coils that an end winds narrower hardly differ from the body's: a long valley."""
    end = BodyEnd(1.0, 3.5, 1.002)
    values = {"coils": 4.0, "end_diameter": 5.9, "bend_radius": 1.6, "loop_radius": 2.95}
    true = Candidate(registry.get("reduced-half-loop"), values, 0.0)
    rng = np.random.default_rng(0)
    data = EndPoints(_on(true, end, rng), end, 1e-6)
    near = {"coils": 4.03, "end_diameter": 5.895, "bend_radius": 1.602}
    start = replace(true, values={**values, **near}, delta=-0.2)
    found = polished(EndFound(Judged(start, 0.0, 0.0, 0.0, 0.0), data, (), True), data, 6)
    assert found.candidate.delta == pytest.approx(0.0, abs=1e-3)
    for name, value in values.items():
        assert found.candidate.values[name] == pytest.approx(value, rel=1e-4), name


def test_a_long_valley_is_followed_to_its_end_by_points_with_errors() -> None:
    """Five coils of falling diameter, noise 0.09 d: from a twentieth of a coil on either side."""
    end = BodyEnd(1.0, 4.68, 1.0026)
    values = {"coils": 5.42, "end_diameter": 7.0, "bend_radius": 1.4, "loop_radius": 2.79}
    true = Candidate(registry.get("reduced-full-loop"), values, 0.0)
    rng = np.random.default_rng(0)
    x = np.vstack([_on(true, end, rng) for _ in range(8)])
    x = x[x[:, 2] > -1.6]  # where the body begins, points would hold it from going along
    data = EndPoints(x + 0.09 * rng.normal(size=x.shape), end, 0.09)
    ends = []
    for aside in (0.05, -0.05):
        values_there = {**values, "coils": 5.42 + aside, "end_diameter": 7.0 + 0.3 * aside}
        start = replace(true, values=values_there, delta=-_TURN * aside)
        found = polished(EndFound(Judged(start, 0.0, 0.0, 0.0, 0.0), data, (), True), data, 8)
        ends.append(found.candidate.delta)
    assert ends[0] == pytest.approx(ends[1], abs=0.005 * _TURN)


@pytest.mark.slow
@pytest.mark.parametrize("seed", [120, 232, 323])
def test_coils_of_a_clean_mesh_end_where_an_end_begins_to_wind_narrower(seed: int) -> None:
    assert abs(run(trial(seed, "clean mesh"))["coils"]) < 1e-3


@pytest.mark.slow
@pytest.mark.parametrize(("seed", "end"), [(495, 1), (516, 0)])
def test_a_loop_on_coils_that_wind_narrower_is_turned_the_right_way_round(
    seed: int, end: int
) -> None:
    """Half a coil more of them, and less of the body's, left a sixth to a half more misfit."""
    found = run(trial(seed))
    assert abs(found["coils"]) < 0.02
    assert found["ends"][end]["found"] == found["ends"][end]["style"]


@pytest.mark.slow
def test_more_shapes_are_tried_where_the_best_leaves_misfit_though_nothing_strange() -> None:
    """Seed 228: a bend wider than its loop, found as a full loop with a third of misfit more."""
    found = run(trial(228))
    assert [e["found"] for e in found["ends"]] == [e["style"] for e in found["ends"]]
    assert abs(found["ends"][1]["r2"]) < 0.05


@pytest.mark.slow
def test_the_next_best_coils_are_tried_where_the_best_are_none() -> None:
    """Seed 722: of four coils and long hooks a coarse tube tells more than the coils' own."""
    found = run(trial(722))
    assert "refused" not in found
    assert abs(found["coils"]) < 0.02


@pytest.mark.slow
def test_coils_are_looked_for_from_other_points_where_those_of_long_hooks_lead_astray() -> None:
    """Seed 922, a clean mesh: hooks twice as long as the coils, about which great tubes lie."""
    found = run(trial(922, "clean mesh"))
    assert "refused" not in found
    assert abs(found["wire_diameter"]) < 1e-3
    assert abs(found["coils"]) < 1e-3
    found = run(trial(922, "STEP solid"))
    assert "refused" not in found
    assert abs(found["coils"]) < 1e-3


@pytest.mark.slow
def test_a_loop_hardly_seen_is_tried_at_all_its_usual_radii() -> None:
    """Seed 48: a half loop ran to its least radius, a full one of unusual values was left."""
    found = run(trial(48))
    assert [e["found"] for e in found["ends"]] == [e["style"] for e in found["ends"]]

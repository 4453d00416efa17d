"""What is made of wire that nobody has seen, and of points that either of two strands may have."""

from __future__ import annotations

import numpy as np
import pytest

from springgeo.curve.frame import Array
from springgeo.ends import registry
from springgeo.ends.protocol import BodyEnd
from springgeo.recovery.end.fit import Candidate, EndPoints, fit
from springgeo.recovery.end.judged import Judged, judged
from springgeo.recovery.end.written import EndWritten
from springgeo.recovery.ends import EndFound, _as_well, find_end
from springgeo.recovery.said import _of_end
from springgeo.recovery.valley import clear_points
from springgeo.recovery.wire import off_surface

_END = BodyEnd(1.0, 4.0, 1.002)


def _places(c: Candidate, low: float, high: float, count: int, noise: float) -> tuple[Array, Array]:
    """Return points on a candidate's wire between two arc lengths, and the length of each; mm."""
    rng = np.random.default_rng(3)
    wire = c.wire(_END, 0.02)
    point, tangent, _, s = wire.stations
    k = rng.choice(np.flatnonzero((s > low) & (s < high)), count)
    across = rng.normal(size=(count, 3))
    across -= tangent[k] * np.einsum("nk,nk->n", across, tangent[k])[:, None]
    across /= np.linalg.norm(across, axis=1)[:, None]
    x = point[k] + 0.5 * across + rng.normal(size=(count, 3)) * noise
    return x, s[k]


def test_coils_that_an_end_winds_are_kept_from_one_another() -> None:
    """Five coils of falling diameter that touch, noise 0.1 d: of what is left, all is its own."""
    style = registry.get("reduced-full-loop")
    c = Candidate(style, {"coils": 5.0, "end_diameter": 6.0}, 0.0)
    x, s = _places(c, -20.0, 90.0, 6000, 0.1)
    kept = clear_points(c, EndPoints(x, _END, 0.1)).x
    own = s[np.flatnonzero((x[:, None, 0] == kept[None, :, 0]).any(axis=1))]
    taken = c.wire(_END).feet(kept).s
    assert len(x) / 3 < len(kept) < len(x)
    assert (np.abs(taken - own) < 2.0).mean() > 0.995


def test_a_value_that_nobody_saw_is_said_to_be_vague_and_the_rest_kept() -> None:
    """The coils and the bend tell which style it is, but not its r1."""
    style = registry.get("reduced-half-loop")
    true = {"coils": 2.0, "end_diameter": 5.5, "bend_radius": 1.5, "loop_radius": 1.8}
    c = Candidate(style, true, 0.0)
    wire = c.wire(_END)
    loop = wire.pieces[-1].segment.length
    x, _ = _places(c, -8.0, wire.length - loop - 0.2, 2500, 0.02)
    data = EndPoints(x, _END, 0.02)
    # as a fit may leave what nothing holds
    best = judged(Candidate(style, true | {"loop_radius": 1.7}, 0.0), data, 0.02)
    assert best is not None
    end = EndWritten.of(EndFound(best, data, (), True))
    assert end.trace is None
    assert end.choice["style"] == "reduced-half-loop"
    assert end.choice["coils"] == pytest.approx(2.0, abs=0.02)
    told = end.told(end.found.candidate.wire(_END).shape)
    assert told.missing > 1.0
    for name in ("loop_radius", "hook_length"):
        assert told.values[name].uncertainty > 1.0
    assert told.values["bend_radius"].uncertainty < 0.1


def test_a_cut_end_that_was_not_seen_places_no_wire() -> None:
    """The last diameter in a hole: the points on the rest say what r1, r2 and length are."""
    true = {"bend_radius": 1.25, "loop_radius": 3.4, "hook_length": 9.4}
    c = Candidate(registry.get("hook-at-side"), true, 0.0)
    x, _ = _places(c, -15.0, c.wire(_END).length - 1.0, 3000, 0.08)
    found = fit(c, EndPoints(x, _END, 0.08), 1.5 * 0.08, 12)
    assert found.values == pytest.approx(true, rel=0.006)


def test_exact_points_between_coils_that_touch_are_no_misfit() -> None:
    """The nearest station to a point in the valley may be the other coil's."""
    c = Candidate(registry.get("full-twisted-loop"), {}, 0.0)
    x, _ = _places(c, -50.0, 15.0, 4000, 0.0)
    found = judged(c, EndPoints(x, _END, 0.0), 0.005)
    assert found is not None
    assert found.chi2 < 20.0


@pytest.mark.parametrize("style", ["machine-half-loop", "english-loop", "hook-at-side"])
def test_points_before_a_cut_end_are_off_its_disc_by_whichever_station(style: str) -> None:
    """The last station but one reaches as far as the last: digits decide which is nearer."""
    wire = Candidate(registry.get(style), {}, 0.0).wire(_END)
    point, along = wire.stations[0][-1], wire.stations[1][-1]
    rng = np.random.default_rng(0)
    across = rng.normal(size=(500, 3))
    across -= along * (across @ along)[:, None]
    across *= 0.5 * np.sqrt(rng.random((500, 1))) / np.linalg.norm(across, axis=1)[:, None]
    for before in (0.02, 0.1):
        feet = wire.feet(point + across + before * along, closely=True)
        off, _, capped = off_surface(feet, along, 0.5, wire.length)
        assert capped.all()
        assert off == pytest.approx(before, abs=1e-9)


def test_styles_that_agree_as_well_are_others_and_each_is_named_once() -> None:
    names = ("raised-hook", "english-loop", "raised-hook", "machine-half-loop", "english-loop")
    found = [Judged(Candidate(registry.get(n), {}, 0.0), 900.0, 0.0, 0.0, 0.0) for n in names]
    assert _as_well(found[0], found[1:]) == ("english-loop", "machine-half-loop")


def _cut_off(c: Candidate, end: BodyEnd, share: float, noise: float) -> EndPoints:
    """Return points of a hook whose wire ends early, in a flat cut."""
    rng = np.random.default_rng(3)
    wire = c.wire(end, 0.02)
    point, tangent, _, s = wire.stations
    last = int(np.searchsorted(s, share * wire.length)) - 1
    k = np.concatenate([rng.choice(np.flatnonzero((s > -30) & (s < s[last])), 2500), [last] * 60])
    across = rng.normal(size=(len(k), 3))
    across -= tangent[k] * np.einsum("nk,nk->n", across, tangent[k])[:, None]
    across /= np.linalg.norm(across, axis=1)[:, None]
    across[-60:] *= np.sqrt(rng.random((60, 1)))
    x = point[k] + end.wire_diameter / 2 * across
    return EndPoints(x + rng.normal(size=x.shape) * noise, end, noise)


@pytest.mark.slow
@pytest.mark.parametrize(("opening", "seed"), [(13.5, 2), (14.52, 1), (14.52, 2), (15.5, 1)])
def test_a_style_that_is_cut_sooner_is_tried_where_wire_goes_on_beyond_the_points(
    opening: float, seed: int
) -> None:
    """A raised hook is a half loop up to where that is cut; the disc's points tell them apart."""
    end, rng = BodyEnd(1.0, 5.11, 2.187), np.random.default_rng(seed)
    true = {"bend_radius": 2.0, "loop_radius": 5.088, "hook_length": 19.11, "opening": opening}
    wire = Candidate(registry.get("machine-half-loop"), true, 0.0).wire(end, 0.02)
    point, tangent, _, s = wire.stations
    k = np.concatenate([rng.choice(np.flatnonzero(s > -12), 1500), [len(s) - 1] * 12])
    across = rng.normal(size=(len(k), 3))
    across -= tangent[k] * np.einsum("nk,nk->n", across, tangent[k])[:, None]
    across /= np.linalg.norm(across, axis=1)[:, None]
    across[-12:] *= np.sqrt(rng.random((12, 1)))
    found = find_end(EndPoints(point[k] + 0.5 * across, end, 1e-6), np.random.default_rng(1))
    assert found.candidate.style.name == "machine-half-loop"
    assert found.candidate.values == pytest.approx(true, rel=1e-3)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("style", "share", "said"),
    [
        ("english-loop", 0.85, "english-loop, broken off"),
        ("full-twisted-loop", 0.8, "further open than this style is made"),
        ("machine-half-loop", 1.0, None),
    ],
)
def test_a_hook_that_passes_for_another_is_said_to_be_broken_perhaps(
    style: str, share: float, said: str | None
) -> None:
    """Index 16, cut flat: what is left has the wire of a hook of unusual proportions."""
    end = BodyEnd(1.0, 8.0, 1.002)
    data = _cut_off(Candidate(registry.get(style), {}, 0.0), end, share, 0.03)
    written = EndWritten.of(find_end(data, np.random.default_rng(0)))
    told = written.told(written.found.candidate.wire(end).shape)
    found = [f.message for f in _of_end("ends.first", told, 0.5) if f.code == "may-be-broken"]
    assert len(found) == (said is not None)
    assert all(said is not None and said in text for text in found)

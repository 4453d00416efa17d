"""The mating section makes the pull another than a straight one: fit, summary, terminal."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import springgeo as sg
from springgeo.cli.main import run
from springgeo.curve import hook_approach
from springgeo.errors import SpecError
from springgeo.fit import end_frame, mechanism
from tests.springs import asked

PIN = {"pin": {"diameter": 4.0, "length": 20.0}}


def _spring(**mating: Any) -> sg.Spring:
    return sg.Spring.from_dict(
        {
            "name": "gate",
            "wire": {"material": "astm-a228", "diameter": 1.2},
            "body": {"mean_diameter": 9.6, "coils": 12, "pitch": 1.26},
            "ends": {
                "first": {"style": "machine-half-loop"},
                "second": {"style": "machine-half-loop"},
            },
            "service": {"loads": [10.0, 25.0]},
            "mating": mating,
        }
    )


def test_pins_out_of_line_with_free_ends() -> None:
    """Statics: the side force over the pull is the way aside over the way along."""
    spring = _spring(first=PIN, second=PIN, offset=["3 mm", "-4 mm"])
    summary = asked(spring)
    d = spring.model.geometry.wire_diameter
    for point, side in zip(summary.mounted, summary.pins.second.side_force, strict=True):
        # from the one wire's middle to the other
        assert side / point.load == pytest.approx(5.0 / (point.length + d), rel=1e-4)
        assert point.length < spring.load_curve.length(point.load)
    assert max(summary.pins.first.moment) < 1e-6
    assert "pull-not-straight" in [f.code for f in summary.findings]
    fitted = spring.fit(states=3)
    for state in fitted.states:
        assert state.pins is not None
        assert state.pins.second.side == pytest.approx(state.pins.first.side, rel=1e-9)
        seats = [np.array(end.seat) for end in (state.first, state.second) if end is not None]
        assert seats[1][:2] - seats[0][:2] == pytest.approx([3.0, -4.0], abs=0.4)


def test_a_given_length_is_kept_as_mounted() -> None:
    """Pins at a length, aside of each other, pull harder than the straight pull at that length."""
    spring = _spring(first=PIN, second=PIN, offset=["9 mm", "-12 mm"])
    spring = spring.with_({"service.loads": [25.0], "service.lengths": [40.0, 46.0]})
    summary, d = asked(spring), spring.model.geometry.wire_diameter
    lengths = [p.length for p in summary.mounted]
    given = {p.length: n for n, p in enumerate(summary.points) if p.length in (40.0, 46.0)}
    assert len(given) == 2
    for length, n in given.items():
        point, side = summary.mounted[n], summary.pins.second.side_force[n]
        assert lengths[n] == length
        # free ends: the straight pull of the way from the one pin to the other
        way = math.hypot(length + d, 15.0)
        force = spring.load_curve.load(way - d)
        assert math.hypot(point.load, side) == pytest.approx(force, rel=1e-4)
        assert point.load > 1.03 * summary.points[n].load
        assert point.load == pytest.approx(force * (length + d) / way, rel=1e-4)
        again = spring.mounted(lengths=[length])[0]
        assert again.load == pytest.approx(point.load, rel=1e-9)


@pytest.mark.parametrize("word", ["25N", "30mm"])
def test_an_assembly_stands_as_it_is_mounted(word: str) -> None:
    spring = _spring(first=PIN, second=PIN, offset=["3 mm", "-4 mm"])
    (state,) = spring.named_states([word], as_mounted=True)
    a, b = state.geometry.contacts
    assert (b - a)[:2] == pytest.approx([3.0, -4.0], abs=0.05)
    (straight,) = spring.named_states([word])
    a, b = straight.geometry.contacts
    assert (b - a)[:2] == pytest.approx([0.0, 0.0], abs=0.05)


def test_a_straight_mount_is_the_straight_pull() -> None:
    spring = _spring(first=PIN, second=PIN)
    found = asked(spring)
    assert found.mounted == ()
    bare = asked(spring.with_(mating=None))
    assert found.points == bare.points
    assert max(found.pins.first.side_force) < 1e-8


def test_weight_of_a_level_spring() -> None:
    """Both pins together bear the weight, m g; ISO 80000-3 for g."""
    spring = _spring(first=PIN, second=PIN, down="level")
    at = spring.mounted(loads=[10.0])[0]
    assert at.equilibrium is not None
    a, b = at.equilibrium.pins
    found = asked(spring)
    whole = found.geometry.mass * 9.80665
    assert (a.force + b.force)[0] == pytest.approx(whole, rel=1e-9)
    assert a.force[0] == pytest.approx(whole / 2, rel=0.02)
    # a two-hundredth of the pull is told in numbers, but is no finding
    assert found.mounted
    assert "pull-not-straight" not in [f.code for f in found.findings]


def test_a_loop_that_its_pin_keeps_turns_with_it() -> None:
    """A pin turned by 10 deg about the pull turns the loop, and bears a moment; a free one none."""
    skew = {"pin": {**PIN["pin"], "direction": [math.tan(math.radians(10)), 1.0, 0.0]}}
    kept = _spring(first={**PIN, "holding": "kept"}, second={**skew, "holding": "kept"})
    state = kept.mounted(loads=[25.0])[0]
    assert state.equilibrium is not None
    frames = [end_frame(g, "second") for g in (kept.model.geometry, state.geometry)]
    axes = [f.axes for f in frames if f is not None]
    turned = math.degrees(math.acos(float(axes[0][:2, 1] @ axes[1][:2, 1])))
    assert turned == pytest.approx(10.0, abs=0.05)
    b = state.equilibrium.pins[1]
    # EN 13906-3 for the body alone: the hooks give as well
    m = asked(kept).material
    most = m.elastic_modulus * 1.2**4 * math.radians(10) / (64 * 9.6 * 12)
    assert 0.8 * most < abs(b.moment[2]) < most
    hook = kept.fit(states=1).states[0].second
    assert hook is not None
    assert abs(hook.hook.distance) < 1e-3
    free = _spring(first=PIN, second=skew)
    found = asked(free)
    assert max(found.pins.second.moment) < 1e-6
    assert found.mounted == ()


def test_holding_belongs_to_the_load_curve() -> None:
    """Held in rotation a side hook cannot lean: the spring is stiffer."""
    base: dict[str, Any] = {"ends.first.style": "hook-at-side", "ends.second.style": "hook-at-side"}
    free = _spring().with_(base)
    held = free.with_({"mating.first.holding": "held", "mating.second.holding": "held"})
    assert held.model.turning == ("held", "held")
    assert held.load_curve.length(20.0) < free.load_curve.length(20.0) - 0.1
    assert max(asked(held).pins.first.moment) > 5.0


@pytest.mark.parametrize(
    ("mating", "field"),
    [
        ({"first": {"holding": "glued"}}, "mating.first.holding"),
        ({"down": [0, 0, 0]}, "mating.down"),
        ({"down": "up"}, "mating.down"),
        ({"offset": [1, 2, 3]}, "mating.offset"),
        ({"offset": [float("nan"), 0]}, "mating.offset"),
        ({"offset": ["1 m", 0]}, "mating.offset"),
    ],
)
def test_refused_in_one_line(mating: dict[str, Any], field: str) -> None:
    with pytest.raises(SpecError) as told:
        _spring(**mating).summary()
    assert [f.field.startswith(field) for f in told.value.findings] == [True] * len(
        told.value.findings
    )


def test_terminal_and_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    held = {**PIN, "holding": "held"}
    file = tmp_path / "gate.yaml"
    file.write_text(
        _spring(first=held, second=held, offset=[2.0, 0.0]).specification_text, encoding="utf-8"
    )
    assert run(["fit", str(file), "--states", "2"]) == 0
    said = capsys.readouterr().out
    assert "pin of the first end: side force up to" in said
    assert "N mm at" in said
    assert run(["fit", str(file), "--states", "2", "--json"]) == 0
    last = json.loads(capsys.readouterr().out)["states"][-1]["pins"]
    total = np.add(last["first"]["force"], last["second"]["force"])
    assert np.abs(total).max() < 1e-9
    assert max(map(abs, last["first"]["moment"])) > 1.0


def test_hooks_beside_each_other_on_a_lever() -> None:
    """Virtual work: the effort is −dE/d drive, out of line as well; the rest goes into the pins."""
    spring = _spring()
    lever = mechanism.Lever(pivot=(0, 0), radius=25, start=0.6, end=1.6)
    fixed = (0.0, -spring.free_length + 10)
    motion = mechanism.run(spring.load_curve, fixed, lever, pins=(4, 4), offset=6.0, stations=101)
    slope = -np.gradient(motion.energy, motion.drive)
    taut = ~motion.slack
    inner = np.flatnonzero(taut)[3:-3]
    scale = np.abs(motion.effort).max()
    assert slope[inner] == pytest.approx(motion.effort[inner], abs=2e-3 * scale)
    assert motion.aside[taut] == pytest.approx(motion.load[taut] * 6 / motion.length[taut])
    ends = motion.translation + motion.rotation[:, :, 2] * motion.length[:, None]
    assert ends[:, 2] == pytest.approx(6.0)
    assert motion.rotation @ np.swapaxes(motion.rotation, 1, 2) == pytest.approx(
        np.tile(np.eye(3), (101, 1, 1)), abs=1e-12
    )


def test_wire_pulled_into_held_coils_is_told() -> None:
    """Plugs far out of line press coils on those they hold: no equilibrium keeps them apart."""
    plug = {"first": {"style": "threaded-plug"}, "second": {"style": "threaded-plug"}}
    spring = _spring(first=PIN, second=PIN, offset=[6.0, 0.0]).with_(
        {"body.pitch": None, "body.initial_stress": 50.0, "body.coils": 6.0, "ends": plug}
    )
    (state,) = spring.mounted(loads=[6.0])
    near = hook_approach(state.geometry.path, 1.2)
    assert near is not None
    assert near.distance < 0.99 * 1.2
    (told,) = (f for f in state.findings if f.code == "wire-in-itself")
    assert "held coils" in told.message
    assert told.message.startswith("at 6 N the wire of ")
    assert "wire-in-itself" in [f.code for f in spring.fit(states=3).findings]
    assert spring.at(load=6.0).findings == ()


def test_wire_in_itself_is_looked_for_once_and_only_when_asked(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A state, its fit and whoever reads its findings share one answer."""
    asked: list[float] = []

    def counted(_geometry: object, load: float) -> tuple[()]:
        asked.append(load)
        return ()

    monkeypatch.setattr("springgeo.fit.laps.lap_findings", counted)
    spring = _spring(first=PIN, second=PIN, offset=["3 mm", "0 mm"])
    states = [*spring.mounted(loads=[10.0]), spring.at(load=25.0)]
    assert asked == []
    for state in states:
        state.fit()
        assert state.findings == ()
        state.fit()
    assert asked == [10.0, 25.0]

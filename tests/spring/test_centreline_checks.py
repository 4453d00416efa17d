"""The checks made on every build can fail: each is given a spring that is wrong in one way."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from springgeo.checks.centreline import centreline_checks
from springgeo.curve import Path, Piece
from springgeo.specification.load import read_preset
from springgeo.spring.model import SpringModel


@pytest.fixture
def model() -> SpringModel:
    """Return a spring that passes."""
    return SpringModel.of(read_preset("gate-latch"))


def failed(model: SpringModel, **changed: object) -> set[str]:
    """Return the checks that fail once the geometry has been changed."""
    wrong = replace(model, geometry=replace(model.geometry, **changed))
    return {c.name for c in centreline_checks(wrong) if not c.ok}


def moved(path: Path, label: str, shift: list[float], turn: float = 0.0) -> Path:
    """Return the path with one piece out of place: mm, rad about x."""
    c, s = np.cos(turn), np.sin(turn)
    axes = np.array([[1, 0, 0], [0, c, -s], [0, s, c]])
    return Path(
        Piece(p.segment.moved(axes, np.array(shift)), p.label, p.role) if p.label == label else p
        for p in path.pieces
    )


def test_nothing_fails_as_built(model: SpringModel) -> None:
    assert failed(model) == set()


def test_a_gap(model: SpringModel) -> None:
    path = moved(model.geometry.path, "second.loop", [1e-8, 0, 0])
    assert failed(model, path=path) == {"joint-gap"}


def test_a_kink(model: SpringModel) -> None:
    path = moved(model.geometry.path, "second.loop", [0, 0, 0], turn=1e-7)
    assert "tangent-jump" in failed(model, path=path)


@pytest.mark.parametrize("side", ["first", "second"])
def test_a_length_that_is_not_there(model: SpringModel, side: str) -> None:
    shape = getattr(model.geometry, side)
    longer = replace(shape, hook_length=shape.hook_length + 2e-5 * model.geometry.wire_diameter)
    assert failed(model, **{side: longer}) == {"length-centreline"}


@pytest.mark.parametrize("side", ["first", "second"])
@pytest.mark.parametrize("name", ["loop_radius", "bend_radius"])
def test_a_radius_that_is_not_there(model: SpringModel, side: str, name: str) -> None:
    shape = getattr(model.geometry, side)
    other = replace(shape, **{name: getattr(shape, name) * (1 + 1e-8)})
    check = f"{name.replace('_', '-')}-{side}"
    assert failed(model, **{side: other}) == {check}


def test_coils_too_near_each_other(model: SpringModel) -> None:
    thicker = replace(model, body=replace(model.body, wire_diameter=1.21))
    names = {c.name for c in centreline_checks(thicker) if not c.ok}
    assert "coil-distance" in names

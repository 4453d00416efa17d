"""What cannot be bent is refused in words an engineer can act on, and never crashes."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from springgeo.curve import hook_approach
from springgeo.ends import registry
from springgeo.ends.protocol import EndStyle
from springgeo.errors import SpecError
from springgeo.spring.geometry import assemble

from .cases import body_end

STYLES = list(registry.styles().values())
# a thread is a name, points are lists; their refusals: tests/trade/test_threads.py, test_traced.py
WORDS = "thread", "points"
PARAMETERS = [(s, name) for s in STYLES for name in s.parameters.model_fields if name not in WORDS]
# an answer says what to do, in one of these words
ADVICE = re.compile(
    r"; (reduce|enlarge|choose|shorten|lengthen|raise|bend|change|move|give)\b.*", re.DOTALL
)


def _refusal(style: EndStyle, index: float = 8.0, **parameters: float) -> SpecError:
    with pytest.raises(SpecError) as caught:
        style.shape(style.parameters(**parameters), body_end(index, 1.0))
    return caught.value


@pytest.mark.parametrize(("style", "name"), PARAMETERS, ids=lambda v: getattr(v, "name", v))
@pytest.mark.parametrize("value", [-3.0, -1e308, 500.0, 1e6, 1e308])
def test_far_out_of_range_names_value_limit_and_remedy(
    style: EndStyle, name: str, value: float
) -> None:
    error = _refusal(style, **{name: value})
    (finding,) = error.findings
    assert finding.severity == "error"
    assert finding.field == name
    assert re.fullmatch(r"[a-z]+(-[a-z]+)+", finding.code)
    assert finding.message.startswith(f"{value:.4g} ")
    numbers = re.findall(r"-?\d+(?:\.\d+)?(?:e[+-]?\d+)?(?= mm| deg| coils)", finding.message)
    numbers += [f"{value:.4g}"] if not finding.message.startswith(f"{value:.4g} mm") else []
    assert len(numbers) >= 2, f"no limit: {finding.message}"
    assert ADVICE.search(finding.message), f"no advice: {finding.message}"


@pytest.mark.parametrize(
    "style", [s for s in STYLES if s.holds_load and s.offered], ids=lambda s: s.name
)
def test_a_bend_tighter_than_the_wire_is_refused(style: EndStyle) -> None:
    (finding,) = _refusal(style, bend_radius=0.9).findings
    assert finding.code == "bend-radius-too-small"
    assert finding.message.startswith("0.9 mm is below the wire diameter 1 mm;")


def test_short_twisted_loop_needs_a_coil_wide_enough_for_its_bend() -> None:
    (finding,) = _refusal(registry.get("short-twisted-loop"), index=4.0).findings
    assert finding.code == "bend-does-not-fit"
    assert "(1 mm)" in finding.message
    assert "at most 0.9 mm" in finding.message
    assert "raise the index" in finding.message


def test_leg_and_hook_length_say_the_same() -> None:
    (finding,) = _refusal(registry.get("machine-half-loop"), leg=2.0, hook_length=9.0).findings
    assert finding.code == "two-forms"


def test_a_loop_cannot_sink_into_the_body() -> None:
    for name in ("machine-half-loop", "raised-hook"):
        (finding,) = _refusal(registry.get(name), hook_length=1.0).findings
        assert finding.code == "hook-too-short", name
    (finding,) = _refusal(
        registry.get("full-twisted-loop"), loop_radius=4.0, hook_length=5.0
    ).findings
    assert finding.code == "hook-length-too-small"
    assert "7 mm" in finding.message  # 2 r1 − d of an index of 8 with 1 mm wire


def test_reduced_coils_blame_what_can_be_changed() -> None:
    (style,) = (s for s in STYLES if s.name == "reduced-full-loop")
    error = _refusal(style, 12.0, bend_radius=4.0, loop_radius=4.0)
    assert {f.field for f in error.findings} == {"bend_radius"}


WILD = st.one_of(
    st.sampled_from([0.0, -1.0, 1e-300, 1e308, -1e308, 5e-324, 1.0, 4.0, 8.0]),
    st.floats(-2.0, 40.0),
    st.floats(allow_nan=False, allow_infinity=False),
)


@pytest.mark.parametrize("style", STYLES, ids=lambda s: s.name)
@settings(max_examples=50)
@given(data=st.data())
def test_whatever_is_asked_for_is_made_or_refused(style: EndStyle, data: st.DataObject) -> None:
    _require_made_or_refused(style, data)


@pytest.mark.slow
@pytest.mark.parametrize("style", STYLES, ids=lambda s: s.name)
@settings(max_examples=300)
@given(data=st.data())
def test_and_much_more(style: EndStyle, data: st.DataObject) -> None:
    _require_made_or_refused(style, data)


def _require_made_or_refused(style: EndStyle, data: st.DataObject) -> None:
    names = [n for n in style.parameters.model_fields if n not in WORDS]
    asked = {n: data.draw(WILD, n) for n in names if data.draw(st.booleans())}
    index = data.draw(st.floats(3.0, 25.0))
    pitch = data.draw(st.one_of(st.none(), st.floats(1.05, 5.0)))
    body = body_end(index, 1.0, pitch)
    with np.errstate(all="raise", under="ignore"):
        try:
            shape = style.shape(style.parameters(**asked), body)
        except SpecError as exc:
            blamed = {f.field for f in exc.findings}
            shape = None
        if shape is None:
            assert blamed <= set(names)
            return
        g = assemble(body, 3.0, "right", shape, shape)
        hook_approach(g.path, 1.0)
    assert np.all(g.path.joint_angles() <= 1e-9)
    assert np.all(g.path.joint_gaps() <= 1e-9)
    assert math.isfinite(g.path.length)
    # nothing stands beyond the overall length, whatever the loop looks like
    z = g.path.point(np.linspace(0.0, g.path.length, 4001))[:, 2]
    assert z.min() >= -0.5 - 1e-9
    assert z.max() <= g.length + 0.5 + 1e-9


@pytest.mark.parametrize("style", STYLES, ids=lambda s: s.name)
def test_unknown_parameters_are_refused(style: EndStyle) -> None:
    with pytest.raises(ValueError, match=r"[Ee]xtra"):
        style.parameters(bend_radios=1.0)

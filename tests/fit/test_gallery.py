"""The over-centre picture's own physics: it must hold without drawing anything."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest

SCRIPT = Path(__file__).parents[2] / "gallery" / "over_centre.py"


@pytest.fixture(scope="module")
def script() -> ModuleType:
    pytest.importorskip("matplotlib")
    spec = importlib.util.spec_from_file_location("over_centre", SCRIPT)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    with pytest.MonkeyPatch.context() as patch:
        # a script finds what lies beside it
        patch.syspath_prepend(str(SCRIPT.parent))
        spec.loader.exec_module(module)
    return module


def test_over_centre_snaps(script: ModuleType) -> None:
    m = script.motion(script.spring())
    script.check(m)
    assert not m.slack.any()
    # the same torque at equal angles to either side, of opposite sign
    np.testing.assert_allclose(m.effort, -m.effort[::-1], atol=1e-9 * np.abs(m.effort).max())

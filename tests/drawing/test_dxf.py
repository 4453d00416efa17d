import io
import math
from functools import cache

import pytest

from springgeo.drawing import drawing_files
from springgeo.specification.load import presets
from tests.springs import kept

ezdxf = pytest.importorskip("ezdxf")
pytest.importorskip("shapely")
KEYS = {
    "LH": ("hook_length_first", "hook_length_second"),
    "LK": ("body_length",),
    "L0": ("free_length",),
    "d": ("wire_diameter",),
    "D": ("mean_diameter",),
    "De": ("outer_diameter",),
    "Di": ("inner_diameter",),
    "e": ("opening_first", "opening_second"),
}


@cache
def read(name, paper):
    spring = kept(name)
    data = drawing_files(spring.model, spring.summary(), "dxf", paper)[0]
    return ezdxf.read(io.StringIO(data.decode())), spring.summary().model_dump()["geometry"]


# the writer is one for all springs: the gate looks at those that the tests below read too
GATE = {"gate-latch": "A4", "sieve-deck-tensioner": "A3", "paper-feed-return": "Letter"}


@pytest.mark.parametrize(
    "name",
    [pytest.param(n, marks=() if n in GATE else pytest.mark.slow) for n in sorted(presets())],
)
def test_dimension_entities_measure_what_the_summary_says(name):
    doc, geometry = read(name, GATE.get(name, "A4"))
    seen = set()
    for dim in doc.modelspace().query("DIMENSION"):
        if dim.dimtype in (2, 5):
            assert dim.get_measurement() == pytest.approx(geometry["loop_angle"], abs=1e-6)
            continue
        symbol = dim.dxf.text.strip("()").split(" ")[0]
        assert "<>" in dim.dxf.text
        value = math.dist(dim.dxf.defpoint2, dim.dxf.defpoint3)
        assert any(value == pytest.approx(geometry[k], rel=1e-9) for k in KEYS[symbol])
        assert dim.dxf.actual_measurement == pytest.approx(value, rel=1e-9)
        assert dim.get_measurement() == pytest.approx(value, rel=1e-9)
        seen.add(symbol)
    assert {"LK", "L0", "D", "De", "Di"} <= seen


def test_dimensions_show_millimetres_of_the_spring():
    doc, _ = read("gate-latch", "A4")
    assert doc.units == 4
    assert doc.dimstyles.get("SPRING").dxf.dimlfac == 1
    shown = " ".join(
        t.plain_text() if t.dxftype() == "MTEXT" else t.dxf.text
        for d in doc.modelspace().query("DIMENSION")
        for t in d.get_geometry_block()
        if t.dxftype() in ("MTEXT", "TEXT")
    )
    assert "37.93" in shown
    assert "23.53" in shown
    assert "90" in shown


def test_outline_is_at_full_size_on_a_layer_of_its_own():
    doc, geometry = read("sieve-deck-tensioner", "A3")
    lines = [p for e in doc.modelspace().query('LWPOLYLINE[layer=="OUTLINE"]') for p in e]
    wide = max(p[0] for p in lines) - min(p[0] for p in lines)
    assert wide > geometry["overall_length"]
    assert {"OUTLINE", "CENTRE", "DIMENSION", "DATA", "TITLE"} <= {x.dxf.name for x in doc.layers}


def test_file_passes_the_auditor():
    doc, _ = read("paper-feed-return", "Letter")
    assert not doc.audit().errors

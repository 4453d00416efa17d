"""Semantic dimensions: found by the kernel's own reader on the right faces, and by a text parser.

Tolerances: DIN 2097, grade 2, and wire to ASTM A228, as given in makers' and suppliers' sheets.
"""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeVertex
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.gp import gp_Pnt
from OCP.STEPCAFControl import STEPCAFControl_Reader
from OCP.TCollection import TCollection_ExtendedString
from OCP.TDF import TDF_LabelSequence
from OCP.TDocStd import TDocStd_Document
from OCP.XCAFDoc import (
    XCAFDoc_Dimension,
    XCAFDoc_DimTolTool,
    XCAFDoc_DocumentTool,
    XCAFDoc_ShapeTool,
)

from springgeo import Spring
from springgeo.cli.main import run
from springgeo.drawing import PAPERS
from springgeo.files.inspection import inspect_here
from springgeo.files.publish.bundle import NamedState, export_bundle
from springgeo.files.publish.exporter import StateFacts
from springgeo.files.step.dimension.model import LABELS, Dimension
from springgeo.files.step.dimension.read import read_dimensions
from springgeo.files.step.session import quiet_kernel
from springgeo.files.step.write import Attribute, StepPart, write_step
from springgeo.fit.mouth import hook_mouth
from springgeo.specification.end_names import SIDES
from springgeo.trade.dimension_tolerance import diameter_allowance, length_allowance
from tests.files.part21 import entities
from tests.fittings.springs import spring

PAIRS = [
    ("full-twisted-loop", "machine-half-loop", {}),
    ("raised-hook", "plain", {"hand": "left"}),
    ("hook-at-side", "v-hook", {"coils": 40}),
    ("reduced-half-loop", "extended-hook", {"mean_diameter": None, "outer_diameter": "11 mm"}),
]


def made(folder: Path, a: str, b: str, body: dict):
    given = spring(a, b, **body)
    given.build(folder, formats=["step"])
    (target,) = folder.glob("*.step")
    return given, target


def kernel_dimensions(path: Path):
    """Return (type, value, lower, upper, first faces, second faces) as the kernel reads them."""
    document, reader = TDocStd_Document(TCollection_ExtendedString("XmlOcaf")), None
    reader = STEPCAFControl_Reader()
    reader.SetGDTMode(True)
    with quiet_kernel():
        reader.ReadFile(str(path))
        reader.Transfer(document)
    labels, found = TDF_LabelSequence(), []
    XCAFDoc_DocumentTool.DimTolTool_s(document.Main()).GetDimensionLabels(labels)
    for i in range(1, labels.Length() + 1):
        thing = XCAFDoc_Dimension.Set_s(labels.Value(i)).GetObject()
        sides = TDF_LabelSequence(), TDF_LabelSequence()
        XCAFDoc_DimTolTool.GetRefShapeLabel_s(labels.Value(i), *sides)
        faces = [
            [XCAFDoc_ShapeTool.GetShape_s(s.Value(k)) for k in range(1, s.Length() + 1)]
            for s in sides
        ]
        kind = str(thing.GetType()).rpartition("DimensionType_")[2]
        limits = (
            (-thing.GetLowerTolValue(), thing.GetUpperTolValue())
            if thing.IsDimWithPlusMinusTolerance()
            else (None, None)
        )
        found.append((kind, thing.GetValue(), *limits, *faces))
    return found


def away(point: np.ndarray, face: object) -> float:
    vertex = BRepBuilderAPI_MakeVertex(gp_Pnt(*point.tolist())).Vertex()
    return float(BRepExtrema_DistShapeShape(vertex, face).Value())


def apart(one: object, other: object) -> float:
    return float(BRepExtrema_DistShapeShape(one, other).Value())


@pytest.mark.parametrize(("a", "b", "body"), PAIRS)
def test_the_kernel_finds_every_dimension_on_the_faces_it_means(tmp_path, a, b, body):
    given, target = made(tmp_path, a, b, {k: v for k, v in body.items() if v} | _without(body))
    stated = read_dimensions(target.read_text("ascii"))
    found = kernel_dimensions(target)
    assert len(found) == len(stated) > 3
    g, facts = given.model.geometry, given.summary().geometry
    ends = g.path.point(np.array([0.0, g.path.length]))
    for s, (kind, value, low, high, first, second) in zip(stated, found, strict=True):
        assert value == pytest.approx(s.value, rel=1e-9, abs=1e-9)
        assert value == pytest.approx(getattr(facts, _field(s.label)), rel=1e-12)
        assert (low is None) is (s.lower is None)
        if low is not None:
            assert (low, high) == pytest.approx((s.lower, s.upper), rel=1e-9)
        assert tuple(len(f) for f in (first, second) if f) == s.features
        side = 0 if _field(s.label).endswith("_first") else 1
        if s.label.startswith("L0"):
            for contact, (face,), end in zip(
                g.contacts, (first, second), (g.first, g.second), strict=True
            ):
                if end.contact_s is not None:
                    assert away(contact, face) < 1e-6
        elif s.label.startswith("e,"):
            assert away(ends[side], first[0]) < 1e-6
            assert s.value == pytest.approx((g.first, g.second)[side].opening)
        elif s.label.startswith("m,"):
            # seen along y, and true to 0.01 d: what lies across is no nearer
            assert away(ends[side], first[0]) < 1e-6
            assert apart(first[0], second[0]) > s.value - 0.02 * g.wire_diameter
            opposite = hook_mouth(g, SIDES[side], holds_load=True).opposite
            axis = g.path.point(np.array([opposite]))[0]
            assert away(axis, second[0]) == pytest.approx(g.wire_diameter / 2, rel=1e-3)
            assert s.upper == pytest.approx(min(s.value, g.wire_diameter))
        elif s.label.startswith("LH"):
            assert away(g.contacts[side], first[0]) < 1e-6
            height = g.body_faces[side] + (0.5 - side) * g.wire_diameter
            near = g.path.point(np.linspace(0, g.path.length, 4001))
            near = near[np.abs(near[:, 2] - height) < 0.02 * g.wire_diameter]
            assert min(away(p, second[0]) for p in near) < 0.51 * g.wire_diameter
        elif s.label.startswith("d,"):
            assert len(first) == sum(1 for f in _faces(target)) - 2
        assert kind.startswith({"deg": "Location_Angular", "mm": ""}[s.unit])


def _without(body: dict) -> dict:
    return {k: None for k, v in body.items() if v is None}


def _field(label: str) -> str:
    return next(field for field, words in LABELS.items() if words == label)


def _faces(path: Path) -> list[str]:
    return [t for t, _ in entities(path.read_text("ascii")).values() if t.startswith("ADVANCED_F")]


def test_an_independent_parser_finds_values_and_published_tolerances(built):
    found = entities((built / "test-spring.step").read_text("ascii"))

    def number(at: int) -> float:
        return float(re.search(r"_MEASURE\(([-+.\dE]+)\)", found[at][0])[1])

    values = {
        r[0]: number(found[r[1]][1][0])
        for t, r in found.values()
        if t.startswith("DIMENSIONAL_CHAR")
    }
    limits = {
        r[1]: [number(x) for x in found[r[0]][1]]
        for t, r in found.values()
        if t.startswith("PLUS_MINUS")
    }
    names = {n: found[found[n][1][0]][0] + found[n][0] for n in values}
    coil = next(n for n, t in names.items() if "D, mean" in t)
    wire = next(n for n, t in names.items() if "d, wire" in t)
    assert (values[coil], limits[coil]) == (9.6, [-0.25, 0.25])
    assert values[wire] == 1.2
    assert limits[wire] == pytest.approx([-0.0004 * 25.4, 0.0004 * 25.4])
    assert sum(t.startswith("DIMENSIONAL_LOCATION") for t, _ in found.values()) == 7
    labels = {n: found[n][0] for n in values if found[n][0].startswith("DIMENSIONAL_LOCATION")}
    hooks = [n for n, t in labels.items() if "LH, hook" in t]
    # ISO 2768-1, class c: 0.3 mm over 3 to 6 mm, 0.5 mm over 6 to 30 mm (from memory)
    assert [limits[n][1] for n in hooks] == [0.5 if values[n] > 6 else 0.3 for n in hooks]
    # a hook's mouth is held to about one wire size (a public glossary of spring terms)
    mouths = [n for n, t in labels.items() if "m, mouth" in t]
    assert [limits[n][1] for n in mouths] == [min(1.2, values[n]) for n in mouths]
    assert len(hooks) == len(mouths) == 2
    for text, refs in found.values():
        if text.startswith("GEOMETRIC_ITEM_SPECIFIC_USAGE"):
            assert found[refs[2]][0].startswith("ADVANCED_FACE")


def test_a_fitted_end_is_dimensioned_to_its_frame(tmp_path):
    _, target = made(tmp_path, "coned-swivel-eye", "full-twisted-loop", {})
    stated = {d.label: d for d in read_dimensions(target.read_text("ascii"))}
    assert stated[LABELS["free_length"]].features == (1, 1)
    found = entities(target.read_text("ascii"))
    tied = [r for t, r in found.values() if t.startswith("ITEM_IDENTIFIED_REPRESENTATION_USAGE")]
    assert [found[r[2]][0].partition(",")[0] for r in tied] == ["AXIS2_PLACEMENT_3D('first_end'"]
    assert {k for k, *_ in kernel_dimensions(target)} >= {"Size_Diameter"}
    assert inspect_here(target).matches


def test_tolerances_are_those_of_the_paper(tmp_path):
    """US table: outside diameter of 0.062 in wire, as given in a spring maker's sheet."""
    found = {}
    for paper in ("A4", "Letter"):
        given = spring("machine-half-loop", "machine-half-loop", coils=4)
        data = given.spec.model_dump(mode="json", exclude_none=True)
        spec = Spring.from_dict({**data, "service": {}, "drawing": {"paper": paper}})
        g = spec.summary().geometry
        trade = PAPERS[paper].trade
        spec.build(tmp_path / paper, formats=["step"])
        (target,) = (tmp_path / paper).glob("*.step")
        stated = {d.label: d for d in read_dimensions(target.read_text("ascii"))}
        coil, free = stated[LABELS["mean_diameter"]], stated[LABELS["free_length"]]
        assert coil.upper == diameter_allowance(g.mean_diameter, g.index, trade).value
        assert free.upper == length_allowance(g.free_length, g.index, trade).value
        found[paper] = coil.source
        assert inspect_here(target).matches
    assert found["A4"].startswith("DIN 2097")
    assert found["Letter"].startswith("US commercial tolerances of the outside diameter")


def test_a_loaded_shape_and_an_envelope_have_none(tmp_path):
    given = spring("full-twisted-loop", "full-twisted-loop")
    state = NamedState(StateFacts("15N", 15.0, 1.0), given.model.geometry)
    of = given.model, tmp_path
    export_bundle(*of, formats=["step"], states=[state], summary=given.summary())
    export_bundle(*of, formats=["step"], detail="envelope", summary=given.summary())
    texts = [p.read_text("ascii") for p in tmp_path.glob("*.step")]
    assert len(texts) == 2
    assert not any("DIMENSIONAL_SIZE" in t for t in texts)


@pytest.mark.usefixtures("read_here")
def test_inspect_shows_dimensions_and_notices_one_that_was_changed(built, tmp_path, capsys):
    text = (built / "test-spring.step").read_text("ascii")
    assert run(["inspect", str(built / "test-spring.step"), "--strict"]) == 0
    shown = capsys.readouterr().out
    assert re.search(r"D, mean coil diameter +9\.6 +-0\.25 0\.25 +mm", shown)
    place = text.index("DIMENSIONAL_SIZE", text.index("D, mean coil"))
    changed = text[:place] + text[place:].replace("LENGTH_MEASURE(9.6)", "LENGTH_MEASURE(9.7)", 1)
    assert changed != text
    (tmp_path / "a.step").write_text(changed, "ascii")
    assert not inspect_here(tmp_path / "a.step").matches
    assert run(["inspect", str(tmp_path / "a.step"), "--strict"]) == 1
    assert re.search(r"mean coil diameter +9\.6 +9\.7 +mm +DIFFERS", capsys.readouterr().out)


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("", 0),
        ("'" * 100_001, 0),
        ("#1=DIMENSIONAL_SIZE();", 0),
        ("#1=DIMENSIONAL_SIZE(#1,'x');#2=DIMENSIONAL_CHARACTERISTIC_REPRESENTATION(#1,#2);", 0),
        (
            "#1=SHAPE_ASPECT('it''s; #9=X(',$,$,.T.);#2 = DIMENSIONAL_SIZE\n(#1,'diameter');\n"
            "#3=DIMENSIONAL_CHARACTERISTIC_REPRESENTATION(#2,#4);"
            "#4=SHAPE_DIMENSION_REPRESENTATION('',(#5),#7);"
            "#5=(LENGTH_MEASURE_WITH_UNIT()MEASURE_WITH_UNIT(LENGTH_MEASURE\n(2.),#6));"
            "#6=(CONVERSION_BASED_UNIT('INCH',#8)LENGTH_UNIT());",
            1,
        ),
    ],
)
def test_text_of_others_is_read_and_nonsense_survived(text, count):
    found = read_dimensions(text)
    assert len(found) == count
    for d in found:
        assert (d.label, d.value, d.unit, d.features) == ("it's; #9=X(", 50.8, "mm", (0,))


def test_a_feature_that_is_not_there_is_refused(tmp_path):
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox

    box = [StepPart("b", BRepPrimAPI_MakeBox(1, 1, 1).Solid())]
    for feature in ((6,), (), "nowhere"):
        wrong = Dimension("x", "diameter", 1.0, (feature,))
        with pytest.raises(ValueError, match="dimension"):
            write_step(
                tmp_path / "a.step",
                box,
                product="p",
                description="d",
                attributes={"k": Attribute(1)},
                dimensions=[wrong],
            )
    assert list(tmp_path.iterdir()) == []

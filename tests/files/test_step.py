"""STEP files with embedded data: every value comes back, and equal input gives equal bytes."""

import json
import math
import random
import re
import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox
from OCP.gp import gp_Trsf, gp_Vec
from OCP.Interface import Interface_Static
from OCP.Quantity import Quantity_Color, Quantity_TypeOfColor
from OCP.STEPCAFControl import STEPCAFControl_Reader
from OCP.TCollection import TCollection_ExtendedString
from OCP.TDataStd import TDataStd_NamedData
from OCP.TDF import TDF_LabelSequence
from OCP.TDocStd import TDocStd_Document
from OCP.TopLoc import TopLoc_Location
from OCP.XCAFDoc import XCAFDoc_ColorType, XCAFDoc_DocumentTool, XCAFDoc_Material, XCAFDoc_Volume

from springgeo.curve import Helix, Path, Piece
from springgeo.errors import FileError
from springgeo.files.step.read import read_step
from springgeo.files.step.session import quiet_kernel
from springgeo.files.step.text import escape, slices, unescape
from springgeo.files.step.units import UNITS
from springgeo.files.step.write import Attribute, StepMaterial, StepPart, write_step
from springgeo.solid import exact_box, properties, tube_properties, tube_solid

SUMMARY = json.dumps(
    {
        "name": 'Ø "spring" it\'s \\ {U+0041}',
        "loads": [i / 7 for i in range(900)],
        "t": "a  b" * 300,
    },
    ensure_ascii=False,
)
ATTRIBUTES = {
    "rate": Attribute(1.25, "N/mm"),
    "initial tension": Attribute(12.5, "N"),
    "stress": Attribute(812.25, "MPa"),
    "mass": Attribute(0.0123, "kg"),
    "angle": Attribute(90.0, "deg"),
    "length": Attribute(45.125, "mm"),
    "temperature": Attribute(20.0, "degC"),
    "active coils": Attribute(18.5),
    "pieces": Attribute(7),
    "below zero": Attribute(-3),
    "empty": Attribute(""),
    "name": Attribute("Rückholfeder 'µ'\n 2"),
    "springgeo-summary": Attribute(SUMMARY),
}
FRAMES = {
    "pin-a": (np.zeros(3), np.array([1.0, 0, 0]), np.array([0, 0, 1.0])),
    "pin-b": (np.array([0, 0, 5.0]), np.array([1.0, 0, 0]), np.array([0, 0, 1.0])),
}
PATH = Path([Piece(Helix(radius=4.0, pitch=1.003, turns=1.5), "body", "body")])


def wire(**more):
    return StepPart("wire", tube_solid(PATH, 0.5), **more)


def box():
    return StepPart("plug", BRepPrimAPI_MakeBox(1, 2, 3).Shape(), (1.0, 0.0, 0.0))


def write(target, parts, **more):
    given = {
        "product": "Feder ü",
        "description": "a spring – free",
        "attributes": ATTRIBUTES,
        "frames": FRAMES,
        "material": StepMaterial("music wire", 7850.0),
    }
    write_step(target, parts, **given | more)
    return target


@pytest.mark.parametrize("several", [False, True])
def test_everything_comes_back(tmp_path, several):
    parts = [wire(), box()] if several else [wire()]
    content = read_step(write(tmp_path / "a.step", parts))
    assert content.product == "Feder ü"
    assert content.description == "a spring – free"
    assert content.attributes == ATTRIBUTES
    assert list(content.attributes) == list(ATTRIBUTES)
    assert isinstance(content.attributes["pieces"].value, int)
    assert json.loads(content.attributes["springgeo-summary"].value) == json.loads(SUMMARY)


def test_every_unit_comes_back(tmp_path):
    given = {f"x {u}": Attribute(1.5, u) for u in UNITS}
    assert read_step(write(tmp_path / "a.step", [box()], attributes=given)).attributes == given


def test_file_is_plain_ascii_without_backslash_or_date(tmp_path):
    raw = write(tmp_path / "a.step", [wire(), box()]).read_bytes()
    assert raw.isascii()
    assert b"\\" not in raw
    assert re.search(rb"FILE_NAME\('Feder \{U\+00FC\}','2000-01-01T00:00:00',\(''\),\(''\)", raw)
    assert re.search(rb"AP242_MANAGED_MODEL_BASED_3D_ENGINEERING", raw)
    assert all(len(s) < 8200 for s in re.findall(rb"'(?:[^']|'')*'", raw))
    # material and density after every attribute
    assert raw.rindex(b"user defined attribute") < raw.index(b"material property")
    assert re.search(rb"AXIS2_PLACEMENT_3D\('pin-b'", raw)
    assert re.search(rb"MANIFOLD_SOLID_BREP\('wire'", raw)


def test_the_kernels_own_reader_finds_data_material_and_volume(tmp_path):
    target = write(tmp_path / "a.step", [wire(properties=tube_properties(PATH, 0.5))])
    document = TDocStd_Document(TCollection_ExtendedString("XmlOcaf"))
    reader = STEPCAFControl_Reader()
    reader.SetMetaMode(True)
    with quiet_kernel():
        reader.ReadFile(str(target))
        reader.Transfer(document)
    labels, materials = TDF_LabelSequence(), TDF_LabelSequence()
    XCAFDoc_DocumentTool.ShapeTool_s(document.Main()).GetFreeShapes(labels)
    XCAFDoc_DocumentTool.MaterialTool_s(document.Main()).GetMaterialLabels(materials)
    label = labels.Value(1)
    assert label.IsAttribute(TDataStd_NamedData.GetID_s())
    data, size, material = TDataStd_NamedData(), XCAFDoc_Volume(), XCAFDoc_Material()
    assert label.FindAttribute(TDataStd_NamedData.GetID_s(), data)
    assert data.GetReal(TCollection_ExtendedString("rate")) == 1.25
    assert label.FindAttribute(XCAFDoc_Volume.GetID_s(), size)
    assert size.Get() == pytest.approx(math.pi / 4 * PATH.length, rel=1e-11)
    assert materials.Value(1).FindAttribute(XCAFDoc_Material.GetID_s(), material)
    assert material.GetName().ToCString() == "music wire"
    assert material.GetDensity() == pytest.approx(7.85)


def test_equal_input_gives_equal_bytes_in_one_process(tmp_path):
    first = write(tmp_path / "a.step", [wire(), box()]).read_bytes()
    for _ in range(8):
        assert write(tmp_path / "b.step", [wire(), box()]).read_bytes() == first


def test_each_part_has_its_colour(tmp_path):
    target = write(tmp_path / "a.step", [wire(), box()])
    document = TDocStd_Document(TCollection_ExtendedString("XmlOcaf"))
    with quiet_kernel():
        reader = STEPCAFControl_Reader()
        reader.ReadFile(str(target))
        reader.Transfer(document)
    colours, labels = XCAFDoc_DocumentTool.ColorTool_s(document.Main()), TDF_LabelSequence()
    XCAFDoc_DocumentTool.ShapeTool_s(document.Main()).GetShapes(labels)
    found = []
    for i in range(1, labels.Length() + 1):
        colour = Quantity_Color()
        if colours.GetColor_s(labels.Value(i), XCAFDoc_ColorType.XCAFDoc_ColorSurf, colour):
            found.append(colour.Values(Quantity_TypeOfColor.Quantity_TOC_sRGB))
    assert np.allclose(found, [(0.62, 0.64, 0.67), (1.0, 0.0, 0.0)], atol=1e-6)


SCRIPT = """
import sys
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox
from springgeo.curve import Helix, Path, Piece
from springgeo.files.step.write import Attribute, StepPart, write_step
from springgeo.solid import tube_solid
path = Path([Piece(Helix(radius=4.0, pitch=1.003, turns=1.5), "body", "body")])
plug = StepPart("plug", BRepPrimAPI_MakeBox(1, 2, 3).Shape(), (1.0, 0.0, 0.0))
parts = [StepPart("wire", tube_solid(path, 0.5)), plug]
write_step(sys.argv[1], parts, product="p", description="q", attributes={"a": Attribute(1.5, "N")})
"""


def test_equal_bytes_in_two_processes_that_say_nothing(tmp_path):
    for name in ("a.step", "b.step"):
        command = [sys.executable, "-c", SCRIPT, str(tmp_path / name)]
        done = subprocess.run(command, capture_output=True, check=True)
        assert done.stdout == b""
        assert done.stderr == b""
    assert (tmp_path / "a.step").read_bytes() == (tmp_path / "b.step").read_bytes()


def test_kernel_settings_are_given_back(tmp_path):
    write(tmp_path / "a.step", [box()])
    names = ("write.step.schema", "write.step.unit")
    before = [Interface_Static.CVal_s(n) for n in names]
    Interface_Static.SetCVal_s("write.step.schema", "AP214IS")
    write(tmp_path / "a.step", [box()])
    assert Interface_Static.CVal_s("write.step.schema") == "AP214IS"
    Interface_Static.SetCVal_s("write.step.schema", before[0])
    assert [Interface_Static.CVal_s(n) for n in names] == before


def test_a_placed_shape_stays_where_it_is(tmp_path):
    move = gp_Trsf()
    move.SetTranslation(gp_Vec(10, 20, 30))
    moved = box().shape.Located(TopLoc_Location(move))
    content = read_step(write(tmp_path / "a.step", [StepPart("plug", moved)]))
    assert np.allclose(exact_box(content.shape), [[10, 20, 30], [11, 22, 33]], atol=1e-6)


def test_closed_form_properties_are_those_of_the_shape():
    exact, found = tube_properties(PATH, 0.5), properties(tube_solid(PATH, 0.5))
    assert found.volume == pytest.approx(exact.volume, rel=1e-7)
    assert found.area == pytest.approx(exact.area, rel=1e-7)
    assert np.allclose(found.centroid, exact.centroid, atol=1e-7)


@pytest.mark.parametrize(
    ("attribute", "message"),
    [
        (Attribute(1.0, "furlong"), "unit 'furlong' is none of"),
        (Attribute("text", "mm"), "text has no unit"),
        (Attribute(math.nan, "mm"), "not a finite number"),
    ],
)
def test_what_cannot_be_said_is_refused_and_leaves_nothing(tmp_path, attribute, message):
    with pytest.raises(ValueError, match=message):
        write(tmp_path / "a.step", [box()], attributes={"x": attribute})
    assert list(tmp_path.iterdir()) == []


def test_no_part_is_refused(tmp_path):
    with pytest.raises(ValueError, match="at least one part"):
        write(tmp_path / "a.step", [])


def test_errors_name_the_file(tmp_path):
    with pytest.raises(FileError, match=r"missing: no such file"):
        write(tmp_path / "missing" / "a.step", [box()])
    with pytest.raises(FileError, match="it is a directory"):
        write(tmp_path, [box()])
    with pytest.raises(FileError, match=r"none\.step: no such file"):
        read_step(tmp_path / "none.step")
    (tmp_path / "bad.step").write_text("solid nonsense")
    with pytest.raises(FileError, match=r"bad\.step"):
        read_step(tmp_path / "bad.step")


@given(st.text())
@settings(max_examples=300)
def test_escape_is_reversible_ascii(text):
    escaped = escape(text)
    assert unescape(escaped) == text
    assert escaped.isascii()
    assert "\\" not in escaped


@given(st.text(alphabet="ab{U+'0041}ü", min_size=900), st.integers(1, 12))
@settings(max_examples=30)
def test_slices_are_short_and_complete(text, times):
    cut = slices(text * times)
    assert "".join(cut) == text * times
    assert all(len(escape(part).replace("'", "''")) <= 410 for part in cut)


def test_any_text_of_any_length_survives(tmp_path):
    # long strings are wrapped: apostrophes and braces must not fall into a wrap's hands
    draw, box = random.Random(7), BRepPrimAPI_MakeBox(1, 1, 1).Solid()
    for _ in range(40):
        text = "".join(draw.choice("ab '\",:{}[]U+\\ü§.0123") for _ in range(draw.randint(1, 9000)))
        target = tmp_path / "text.step"
        write_step(
            target,
            [StepPart("b", box)],
            product="p",
            description="d",
            attributes={"k": Attribute(text)},
        )
        assert read_step(target).attributes["k"].value == text

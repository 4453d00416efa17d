"""One value of a YAML text changed: everything else stays as it was written."""

from __future__ import annotations

import pytest

from springgeo import SpecError
from springgeo.desk.edited import edited, values
from springgeo.text.yaml_text import read_yaml

pytest.importorskip("ruamel.yaml", reason="the extra live has it")

TEXT = """\
# of a gate
name: latch   # its name
wire: {material: astm-a228, diameter: 1.2 mm}  # music wire
body:
  mean_diameter: 9.6 mm
  coils: 18.5          # kept
ends: {a: v-hook, b: {style: machine-half-loop, bend_radius: 2.4 mm}}
service:
  loads:
    - 15 N
    - 30 N
  temperature: "20 degC"
"""


@pytest.mark.parametrize(
    ("key", "value", "line"),
    [
        (
            "wire.diameter",
            "0.047 in",
            "wire: {material: astm-a228, diameter: 0.047 in}  # music wire",
        ),
        (
            "wire.diameter",
            "1,3 mm",
            'wire: {material: astm-a228, diameter: "1,3 mm"}  # music wire',
        ),
        ("body.coils", "20", "  coils: 20          # kept"),
        ("name", "a: b # c", 'name: "a: b # c"   # its name'),
        ("service.temperature", "40 degC", "  temperature: 40 degC"),
    ],
)
def test_a_value_in_its_place_changes_one_line(key, value, line):
    before, after = TEXT.splitlines(), edited(TEXT, key, value).splitlines()
    assert len(before) == len(after)
    (moved,) = [new for old, new in zip(before, after, strict=True) if old != new]
    assert moved == line


@pytest.mark.parametrize(
    ("key", "value", "gone", "there"),
    [
        ("body.index", "8", "body.mean_diameter", "body.index"),
        ("ends.second.style", "raised-hook", "ends.second.bend_radius", "ends.second.style"),
        ("ends.first.bend_radius", "2 mm", "ends.first", "ends.first.bend_radius"),
        ("making.test_load", "30 N", "none", "making.test_load"),
        ("service.loads", "10 N, 20 N", "none", "service.loads"),
    ],
)
def test_keys_come_and_go_and_comments_stay(key, value, gone, there):
    after = edited(TEXT, key, value)
    found = values(after)
    assert found[there] == value
    assert gone not in found
    for comment in ("# of a gate", "# its name", "# kept"):
        assert comment in after
    order = [k for k in read_yaml(after, "x") if k in read_yaml(TEXT, "x")]
    assert order == list(read_yaml(TEXT, "x"))


def test_an_emptied_mapping_goes_with_its_last_value():
    text = edited(TEXT, "making.test_load", "30 N")
    again = edited(text, "making.test_load", None)
    assert "making" not in again
    assert values(again) == values(TEXT)


@pytest.mark.parametrize(
    "value", ["*a", "!!python/object:os.system x", "{", "[1", "a\nb: 1", "- x"]
)
def test_what_is_typed_stays_one_value(value):
    after = edited(TEXT, "name", value)
    data = read_yaml(after, "x")
    assert list(data) == list(read_yaml(TEXT, "x"))
    assert data["name"] == " ".join(value.split())


def test_a_key_below_a_value_is_refused():
    with pytest.raises(SpecError, match="below a value"):
        edited(TEXT, "name.first", "x")


def test_ends_keep_the_names_the_file_gives_them():
    """TEXT calls them a and b; keys are first and second whatever a file says."""
    after = edited(TEXT, "ends.second.bend_radius", "3 mm")
    assert "b: {style: machine-half-loop, bend_radius: 3 mm}" in after
    assert values(after)["ends.second.bend_radius"] == "3 mm"
    mated = edited(TEXT, "mating.first.pin.diameter", "5 mm") + ""
    assert values(mated)["mating.first.pin.diameter"] == "5 mm"
    lettered = TEXT + "mating: {a: {pin: {diameter: 5 mm, length: 9 mm}}}\n"
    again = edited(lettered, "mating.first.plate.thickness", "2 mm")
    assert "pin" not in read_yaml(again, "x")["mating"]["a"]
    assert "first" not in read_yaml(again, "x")["mating"]

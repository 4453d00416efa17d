"""Every member is built from its own row: stored specification, files, own material."""

from __future__ import annotations

import itertools
import json
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from springgeo.errors import FileError, SpecError
from springgeo.family import build_family, read_family
from springgeo.specification.load import spec_of

MUSIC_WIRE = files("springgeo.materials").joinpath("data", "astm-a228.yaml").read_text("utf-8")


def base(**change: Any) -> dict[str, Any]:
    loop = {"style": "full-twisted-loop"}
    whole = {
        "name": "g",
        "wire": {"diameter": 1.0},
        "body": {"mean_diameter": 9.6, "coils": 12},
        "ends": {"first": dict(loop), "second": dict(loop)},
    }
    return whole | change


def grid(folder: Path, vary: dict[str, list[Any]], **change: Any) -> Path:
    path = folder / "grid.yaml"
    # JSON is YAML, and has no anchors
    path.write_text(json.dumps({"base": base(**change), "vary": vary}))
    return path


def stored(out: Path, stem: str) -> dict[str, Any]:
    text = (out / stem / f"{stem}.json").read_text()
    found: dict[str, Any] = json.loads(text)["specification"]
    return found


def test_a_mapping_in_vary_is_not_shared(tmp_path: Path) -> None:
    vary = {"ends.first": [{"style": "raised-hook"}], "ends.first.bend_radius": [2.5, 3, 4]}
    members = read_family(grid(tmp_path, vary), whole=False)
    assert [m.data["ends"]["first"]["bend_radius"] for m in members] == [2.5, 3, 4]
    assert not build_family(members, tmp_path / "out", 1).failures
    radii = [stored(tmp_path / "out", m.stem)["ends"]["first"]["bend_radius"] for m in members]
    assert radii == [2.5, 3, 4]


LOOPS = st.sampled_from(
    [
        {"style": "full-twisted-loop"},
        {"style": "machine-half-loop", "bend_radius": 2.0},
        {"style": "raised-hook"},
    ]
)
VARY = st.fixed_dictionaries(
    {},
    optional={
        "ends.first": st.lists(LOOPS, min_size=1, max_size=2, unique_by=lambda e: e["style"]),
        "ends.first.bend_radius": st.lists(
            st.sampled_from([2.1, 2.3, 2.5]), min_size=1, max_size=2, unique=True
        ),
        "wire": st.lists(
            st.sampled_from([{"diameter": 0.9}, {"diameter": 1.1}]),
            min_size=1,
            max_size=2,
            unique_by=lambda w: w["diameter"],
        ),
        "wire.diameter": st.lists(st.sampled_from([0.8, 1.2]), min_size=1, max_size=2, unique=True),
        "body.coils": st.lists(st.integers(8, 14), min_size=1, max_size=2, unique=True),
    },
)


def by_hand(vary: dict[str, list[Any]]) -> list[dict[str, Any]]:
    """Return the rows of a grid, each written out anew from text."""
    rows = []
    for values in itertools.product(*vary.values()):
        row = json.loads(json.dumps(base()))
        for key, value in zip(vary, values, strict=True):
            *path, last = key.split(".")
            place = row
            for part in path:
                place = place.setdefault(part, {})
            place[last] = json.loads(json.dumps(value))
        rows.append(row)
    return rows


@pytest.mark.slow
@settings(
    max_examples=12,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(VARY.filter(bool))
def test_each_stored_specification_equals_its_row(
    tmp_path_factory: pytest.TempPathFactory, vary: dict[str, list[Any]]
) -> None:
    from springgeo.family.build import build_member

    vary = dict(sorted(vary.items()))  # what lies below a key comes after it
    folder = tmp_path_factory.mktemp("grid")
    wanted = by_hand(vary)
    members = read_family(grid(folder, vary), whole=False)
    assert len(members) == len(wanted)
    for member, row in zip(members, wanted, strict=True):
        record = build_member(member, folder / "out")
        assert record.status == "built", record.errors
        spec = spec_of(row).model_dump(mode="json", exclude_none=True) | {"name": record.name}
        assert stored(folder / "out", member.stem) == spec
    assert len({m.stem for m in members}) == len(members)


def test_a_key_above_an_earlier_one_is_refused(tmp_path: Path) -> None:
    vary = {"ends.first.bend_radius": [2.5, 3], "ends.first": [{"style": "raised-hook"}]}
    with pytest.raises(SpecError, match=r"take the place of 'ends\.first\.bend_radius'"):
        read_family(grid(tmp_path, vary))
    (tmp_path / "t.csv").write_text("wire.diameter,wire\n1,2\n")
    with pytest.raises(SpecError, match=r"take the place of 'wire\.diameter'"):
        read_family(tmp_path / "t.csv")


def test_thousands_of_dots_are_refused(tmp_path: Path) -> None:
    (tmp_path / "t.csv").write_text(f"wire.diameter,a{'.b' * 3000}\n1,2\n")
    with pytest.raises(SpecError, match="deeper than 10"):
        read_family(tmp_path / "t.csv")
    with pytest.raises(SpecError, match="deeper than 10"):
        read_family(grid(tmp_path, {f"a{'.b' * 30}": [1]}))


def test_a_grid_too_large_is_refused_before_it_is_made(tmp_path: Path) -> None:
    with pytest.raises(SpecError, match="more than 100000"):
        read_family(grid(tmp_path, {f"wire.k{n}": list(range(10)) for n in range(300)}))


def test_names_that_vary_are_kept(tmp_path: Path) -> None:
    members = read_family(grid(tmp_path, {"name": ["left", "right"]}))
    assert [m.data["name"] for m in members] == ["left", "right"]


@pytest.mark.parametrize("name", ["member", "manifest", "CON", "nul"])
def test_no_file_takes_the_place_of_another(name: str, tmp_path: Path) -> None:
    (member,) = read_family(grid(tmp_path, {"name": [name]}), whole=False)
    outcome = build_family([member], tmp_path / "out", 1)
    assert not outcome.failures
    assert build_family([member], tmp_path / "out", 1).skipped == 1
    place = tmp_path / "out" / member.stem
    assert member.stem == f"{name.lower()}-spring"
    assert json.loads((place / "member.json").read_text())["status"] == "built"
    assert stored(tmp_path / "out", member.stem)["name"] == name
    assert json.loads((tmp_path / "out" / "manifest.json").read_text())["built"] == 1


def own_material(folder: Path, strength: int = 439) -> None:
    text = MUSIC_WIRE.replace("id: astm-a228", "id: mine").replace("439]", f"{strength}]")
    (folder / "mine.yaml").write_text(text)


def test_an_edited_material_file_is_built_again(tmp_path: Path) -> None:
    own_material(tmp_path)
    table = grid(tmp_path, {"body.coils": [10, 11]}, wire={"material": "mine.yaml", "diameter": 1})
    out = tmp_path / "out"
    assert build_family(read_family(table, whole=False), out, 1).skipped == 0
    assert build_family(read_family(table, whole=False), out, 1).skipped == 2
    own_material(tmp_path, 450)
    outcome = build_family(read_family(table, whole=False), out, 1)
    assert (outcome.skipped, outcome.failures) == (0, ())
    material = stored(out, outcome.records[0].stem)["wire"]["material"]
    assert material["tensile"]["rows"][0] == [0.004, 450]


def test_the_path_of_a_material_file_is_nowhere(tmp_path: Path) -> None:
    own_material(tmp_path)
    (tmp_path / "t.csv").write_text(
        "name,wire.material,wire.diameter,body.index,body.coils,ends.first.style,ends.second.style\n"
        "x,mine.yaml,1,8,10,machine-half-loop,machine-half-loop\n"
        f"y,{tmp_path / 'mine.yaml'},1,8,10,machine-half-loop,machine-half-loop\n"
    )
    x, y = read_family(tmp_path / "t.csv", whole=False)
    assert x.data["wire"] == y.data["wire"]
    build_family([x, y], tmp_path / "out", 1)
    for path in (tmp_path / "out").rglob("*.json"):
        assert "mine.yaml" not in path.read_text()
        assert str(tmp_path) not in path.read_text()


def test_a_missing_material_file_is_one_line(tmp_path: Path) -> None:
    table = grid(tmp_path, {"body.coils": [10]}, wire={"material": "no.yaml", "diameter": 1})
    with pytest.raises(FileError, match=r"'no\.yaml'"):
        read_family(table)

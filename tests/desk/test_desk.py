"""The desk: questions, steps, and what others do to the file meanwhile; no browser needed."""

from __future__ import annotations

import asyncio
import base64
import json

import numpy as np
import pytest

from springgeo import Spring
from springgeo.desk.desk import BadQuestionError, Desk

pytest.importorskip("ruamel.yaml", reason="the extra live has it")

TEXT = """\
# a small spring
wire: {material: astm-a228, diameter: 1 mm}
body: {index: 8, coils: 6, initial_tension: 5 N}
ends: {first: {style: machine-half-loop}, second: {style: machine-half-loop}}
service: {loads: [10 N]}
"""


HOOK = (("A", "hook_bending"), ("B", "hook_torsion"))


@pytest.fixture(name="path")
def _path(tmp_path):
    path = tmp_path / "spring.yaml"
    path.write_text(TEXT)
    return path


@pytest.fixture(name="desk")
def _desk(path):
    found = Desk(path, apart=False)
    yield found
    found.close()


def ask(desk, what, **more):
    return asyncio.run(desk.ask({"what": what, "page": "p", **more}))


def save(path, text):
    """Save as an editor does, by renaming: the file's stamp is surely another."""
    other = path.with_suffix(".new")
    other.write_text(text)
    other.replace(path)


def test_numbers_are_those_of_the_summary(desk):
    """The page has no answer of its own."""
    spring = Spring.from_file(desk.path)
    summary = spring.summary()
    rows = {r["key"]: r["value"] for r in ask(desk, "near")["rows"]}
    assert rows["free_length"] == summary.geometry.free_length
    assert rows["rate"] == summary.rate
    assert rows["book.1.body_shear"] == summary.points[0].margin.body_shear
    shape = ask(desk, "shape", load=10)
    assert shape["length"] == pytest.approx(summary.points[0].length, abs=1e-9)
    whole = {r["key"]: r["value"] for r in ask(desk, "whole")["rows"]}
    assert whole["wire.1.body_shear"] == summary.along_the_wire.points[0].margin.body_shear
    assert whole["stop"] == summary.pull.travel_stop


def test_a_rough_picture_is_of_the_same_state_and_stress(desk):
    """Fewer facets, within 0.15 d of the wire; the same equilibrium, the same greatest stress."""
    fine, rough = (ask(desk, "shape", load=8, rough=r) for r in (False, True))
    for key in ("load", "length"):
        assert rough[key] == fine[key]
    state = Spring.from_file(desk.path).at(load=8)
    path, radius = state.centreline, state.geometry.wire_diameter / 2
    facets = {}
    for name, answer in (("fine", fine), ("rough", rough)):
        data = answer["view"]
        s, use = (
            floats(data[k]) if k == "arc" else floats(data[k]["judged"]) for k in ("arc", "use")
        )
        facets[name] = 2 * len(s) * data["around"]
        rings = np.frombuffer(base64.b64decode(data["rings"]), "<i2").reshape(-1, 9)
        centre = np.array(data["low"]) + np.array(data["span"]) * (rings[:, :3] + 32768.0) / 65535
        s = s / s[-1] * path.length
        assert np.linalg.norm(centre - path.point(s), axis=1).max() < 1e-3 * radius
        middle = path.point((s[1:] + s[:-1]) / 2)
        sag = np.linalg.norm((centre[1:] + centre[:-1]) / 2 - middle, axis=1).max()
        off = sag + radius * (1 - np.cos(np.pi / data["around"]))
        assert off < (0.04 if name == "fine" else 0.15) * 2 * radius
        answer["most"] = use.max()
    assert rough["most"] == pytest.approx(fine["most"], rel=1e-6)
    assert facets["rough"] < facets["fine"] / 4


def floats(text):
    return np.frombuffer(base64.b64decode(text), "<f4").astype(float)


def test_the_answers_are_json(desk):
    for what in ("start", "near", "whole"):
        json.dumps(ask(desk, what), allow_nan=False)


def test_what_if_leaves_the_file_alone(desk, path):
    now = ask(desk, "near", changes={"body.coils": "9"})
    was = ask(desk, "near", was=True)
    coils = [next(r["value"] for r in a["rows"] if r["key"] == "body_coils") for a in (was, now)]
    assert coils == [6, 9]
    assert path.read_text() == TEXT


def test_a_refusal_names_the_field_and_what_was_meant(desk):
    (found,) = ask(desk, "near", changes={"wire.diameter": "90 mm"})["refused"]
    assert found["field"] == "wire.diameter"
    assert "20\u00a0mm" in found["message"]
    (found,) = ask(desk, "near", changes={"wire.material": "astm-a229x"})["refused"]
    assert "astm-a229" in found["message"]


def test_steps_back_and_forth_are_the_texts_to_the_letter(desk, path):
    texts = [TEXT]
    for coils in ("7", "8", "9"):
        seen = ask(desk, "near") and desk.file.number
        assert not ask(desk, "change", changes={"body.coils": coils}, seen=seen)["conflicts"]
        texts.append(path.read_text())
    for text in reversed(texts[:-1]):
        ask(desk, "back")
        assert path.read_text() == text
    for text in texts[1:]:
        ask(desk, "forth")
        assert path.read_text() == text
    assert ask(desk, "forth")["forth"] == 0


def test_another_editor_is_seen_and_its_step_can_be_taken_back(desk, path):
    save(path, TEXT.replace("coils: 6", "coils: 11"))
    answer = ask(desk, "wait", seen=0)
    assert answer["values"]["body.coils"] == "11"
    ask(desk, "back")
    assert path.read_text() == TEXT


def test_edits_of_other_keys_are_put_together(desk, path):
    save(path, TEXT.replace("coils: 6", "coils: 11"))
    assert ask(desk, "change", changes={"wire.diameter": "1.1 mm"}, seen=0)["conflicts"] == []
    assert "coils: 11" in path.read_text()
    assert "1.1 mm" in path.read_text()


@pytest.mark.parametrize(("whose", "coils"), [("file", "11"), ("page", "9")])
def test_a_conflict_is_shown_and_nothing_lost(desk, path, whose, coils):
    theirs = TEXT.replace("coils: 6", "coils: 11")
    save(path, theirs)
    (found,) = ask(desk, "change", changes={"body.coils": "9"}, seen=0)["conflicts"]
    assert found == {"key": "body.coils", "file": "11", "page": "9"}
    assert path.read_text() == theirs
    ask(desk, "change", changes={"body.coils": "9"}, seen=0, whose=whose)
    assert f"coils: {coils}" in path.read_text()
    if whose == "page":
        ask(desk, "back")
        assert path.read_text() == theirs


def test_two_pages_at_once_do_not_overwrite_each_other(desk, path):
    asyncio.run(
        desk.ask({"what": "change", "page": "1", "changes": {"body.coils": "7"}, "seen": 0})
    )
    other = {"what": "change", "page": "2", "changes": {"body.coils": "8"}, "seen": 0}
    assert asyncio.run(desk.ask(other))["conflicts"]
    assert "coils: 7" in path.read_text()


def test_a_file_that_is_gone_is_said_to_be_and_can_be_written_again(desk, path):
    path.unlink()
    assert ask(desk, "wait", seen=0)["gone"]
    assert (
        "is gone"
        in ask(desk, "change", changes={"body.coils": "7"}, seen=0)["refused"][0]["message"]
    )
    assert not path.exists()
    assert ask(desk, "near")["rows"]
    assert not ask(desk, "restore")["gone"]
    assert path.read_text() == TEXT


@pytest.mark.parametrize(
    "text", ["wire: {diameter: [", "\x00", "", "- a list\n", "name: x\n", "a: &b 1\nc: *b\n"]
)
def test_a_file_made_invalid_is_said_so_and_the_step_before_comes_back(desk, path, text):
    save(path, text)
    answer = ask(desk, "wait", seen=0)
    assert answer["number"] == 1
    assert ask(desk, "near")["refused"]
    assert ask(desk, "whole")["refused"]
    ask(desk, "back")
    assert path.read_text() == TEXT
    assert ask(desk, "near")["rows"]


def test_a_file_that_is_not_text_is_refused_in_words(desk, path):
    other = path.with_suffix(".new")
    other.write_bytes(b"\xff\xfe\x00")
    other.replace(path)
    assert "UTF-8" in ask(desk, "wait", seen=0)["refused"][0]["message"]


@pytest.mark.parametrize("count", [40, pytest.param(1000, marks=pytest.mark.slow)])
def test_quick_edits_all_arrive(desk, path, count):
    for i in range(count):
        answer = ask(desk, "change", changes={"body.coils": f"{6 + i % 50}"}, seen=desk.file.number)
        assert answer["conflicts"] == []
    assert f"coils: {6 + (count - 1) % 50}" in path.read_text()
    # the first says what stood there; steps are kept, but not for ever
    assert answer["back"] == min(count - 1, 499)


def test_newer_questions_of_a_page_make_older_ones_stale(desk):
    async def many():
        asked = [
            desk.ask({"what": "near", "page": "p", "changes": {"body.coils": f"{6 + i}"}})
            for i in range(30)
        ]
        return await asyncio.gather(*asked)

    answers = asyncio.run(many())
    assert len(answers) == 30
    assert sum("stale" in a for a in answers) >= 27
    last = {r["key"]: r["value"] for r in answers[-1]["rows"]}
    assert last["body_coils"] == 35


@pytest.mark.parametrize("named", ["../own.yaml", "/etc/hostname.yaml", "sub/../../own.yaml"])
def test_no_material_outside_the_folder_is_read(desk, path, named):
    (path.parent.parent / "own.yaml").write_text("id: own\n")
    (found,) = ask(desk, "near", changes={"wire.material": named})["refused"]
    assert "outside the file's folder" in found["message"]


def test_nor_through_a_link_out_of_it(desk, path):
    outside = path.parent.parent / "own.yaml"
    outside.write_text("id: own\n")
    (path.parent / "link.yaml").symlink_to(outside)
    (found,) = ask(desk, "near", changes={"wire.material": "link.yaml"})["refused"]
    assert "outside the file's folder" in found["message"]


@pytest.mark.parametrize(
    "question",
    [
        None,
        [],
        {},
        {"what": "near", "changes": []},
        {"what": "near", "changes": {"a": 1}},
        {"what": "near", "changes": {"a" * 101: "1"}},
        {"what": "near", "changes": {"a": "x" * 4001}},
        {"what": "near", "changes": {str(i): "1" for i in range(101)}},
        {"what": "shape", "load": "1"},
        {"what": "shape", "load": -1},
        {"what": "shape", "load": float("nan")},
        {"what": "style", "side": "c", "style": "v-hook"},
        {"what": "style", "side": "first", "style": "../v-hook"},
        {"what": "file", "kind": "../../x"},
        {"what": "change", "changes": {}, "seen": "0"},
        {"what": "__init__"},
    ],
)
def test_what_is_no_question_is_no_question(desk, question):
    with pytest.raises(BadQuestionError):
        asyncio.run(desk.ask(question))


def test_every_style_is_a_card_with_hook_length_and_share(desk):
    card = ask(desk, "style", side="first", style="raised-hook", load=10)
    spring = Spring.from_file(desk.path).with_({"ends.first.style": "raised-hook"})
    assert card["hook_length"] == spring.summary().geometry.hook_length_first
    assert 0 < card["share"] < 5
    assert card["picture"].startswith("<svg")
    # the least margin of the summary is of the worse end; raised hooks are bent hardest
    book = spring.along_the_wire
    assert card["share"] == pytest.approx(
        10 * max(book.per_newton(r) / getattr(book.book.allowable, k) for r, k in HOOK), rel=1e-6
    )
    assert ask(desk, "style", side="second", style="plain", load=10)["share"] is None


def test_fields_are_all_of_the_specification(desk):
    """Against the models themselves: nothing that a file may hold is missing from the form."""
    from springgeo.specification import Spec

    keys = {f["key"] for f in ask(desk, "start")["fields"]}
    spec = Spec.model_json_schema()

    def leaves(node, above=""):
        for name, inner in node.get("properties", {}).items():
            refs = [o["$ref"] for o in (inner, *inner.get("anyOf", ())) if "$ref" in o]
            model = spec["$defs"][refs[0].rpartition("/")[2]] if refs else {}
            if name in ("first", "second") and above == "ends.":
                yield f"ends.{name}.style"
            elif "properties" in model:
                yield from leaves(model, f"{above}{name}.")
            else:
                yield above + name

    assert keys == set(leaves(spec))

"""The deck as text, read back by its own rules, and run where CalculiX is there."""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest

from springgeo import Spring
from springgeo.cli.main import run
from springgeo.elements import Elements
from springgeo.elements.quality import volume
from springgeo.elements.turned import Fitting
from springgeo.errors import FileError, SpecError
from springgeo.files.inspect import inspect_file
from springgeo.files.read import read_found
from springgeo.optional import MissingLibraryError
from tests.decks import solved
from tests.decks.calculix import PEAK, RATE, compare

ENDS = {
    "hooks": ("machine-half-loop", "english-loop", {}),
    "at side": ("full-loop-at-side", "full-loop-at-side", {"angle": 0}),
    "plug": ("threaded-plug", "machine-half-loop", {}),
}
needs_ccx = pytest.mark.skipif(solved.program() is None, reason=solved.MISSING)


def spring_of(first, second, ends, **body):
    return Spring.from_dict(
        {
            "name": "deck",
            "wire": {"material": "astm-a228", "diameter": 2.0},
            "body": {"index": 5, "coils": 2, **(body or {"gap": 0.1})},
            "ends": {"first": first, "second": second, **ends},
            "service": {"loads": [100.0]},
        }
    )


def blocks(text):
    """Yield keyword, its parameters, and the lines of data of every card."""
    lines = [x for x in text.splitlines() if not x.startswith("**")]
    starts = [i for i, x in enumerate(lines) if x.startswith("*")]
    for i, j in zip(starts, [*starts[1:], len(lines)], strict=True):
        keyword, *rest = (w.strip() for w in lines[i].split(","))
        options = dict((*w.split("="), "")[:2] for w in rest)
        yield keyword, {k.strip(): v.strip() for k, v in options.items()}, lines[i + 1 : j]


def numbers(lines):
    return [float(w) for x in lines for w in x.split(",") if w.strip()]


@pytest.fixture(scope="module", params=list(ENDS))
def deck(request, tmp_path_factory):
    spring = spring_of(*ENDS[request.param])
    folder = tmp_path_factory.mktemp("deck")
    spring.export(folder, formats=["inp"], elements=Elements("hex20", 0.5))
    return spring, (folder / "deck.inp").read_text("ascii")


def test_whatever_a_deck_names_is_there(deck):
    spring, text = deck
    cards = list(blocks(text))
    nodes = {int(x.split(",")[0]) for k, _, d in cards if k == "*NODE" for x in d}
    assert nodes == set(range(1, len(nodes) + 1))
    rows = np.array(numbers(next(d for k, _, d in cards if k == "*ELEMENT"))).reshape(-1, 21)
    assert set(rows[:, 1:].ravel()) <= nodes
    elements = set(rows[:, 0])
    sets = {o["ELSET"]: set(numbers(d)) for k, o, d in cards if k == "*ELSET"}
    others = [d for k, o, d in cards if k == "*ELEMENT" and o["ELSET"] != "WIRE"]
    assert len(others) == len(spring.model.geometry.parts)
    parts = np.array(numbers(x for d in others for x in d)).reshape(-1, 21)
    assert set(parts[:, 1:].ravel()) <= nodes - set(rows[:, 1:].ravel())
    assert [*rows[:, 0], *parts[:, 0]] == list(range(1, len(rows) + len(parts) + 1))
    assert all(s <= elements for s in sets.values())
    assert sets["BODY"] | sets["FIRST_END"] | sets["SECOND_END"] == elements
    known = {o["NSET"] for k, o, _ in cards if k == "*NSET"}
    assert {"FIRST_PULL", "SECOND_PULL", "SURFACE_NODES"} <= known
    assert all(o["NSET"] in known for k, o, _ in cards if k in ("*NODE PRINT", "*RIGID BODY"))
    assert max(len(x) for x in text.splitlines() if not x.startswith("**")) <= 132
    assert sum(len(x.split(",")) > 16 for x in text.splitlines() if x[:1].isdigit()) == 0


def test_the_pull_acts_where_the_hook_is_loaded_and_along_z(deck):
    _, text = deck
    cards = list(blocks(text))
    at = {
        int(x.split(",")[0]): np.array(numbers([x])[1:])
        for k, _, d in cards
        if k == "*NODE"
        for x in d
    }
    pulls = {
        o["NSET"]: int(numbers(d)[0]) for k, o, d in cards if k == "*NSET" and "PULL" in o["NSET"]
    }
    way = at[pulls["SECOND_PULL"]] - at[pulls["FIRST_PULL"]]
    assert np.allclose(way[:2], 0, atol=1e-9 * way[2])
    for k, _, d in cards:
        if k != "*EQUATION":
            continue
        terms = np.array(numbers(d[1:])).reshape(-1, 3)
        assert len(terms) == int(d[0])
        # a rigid motion meets the equation: shares add up to one, and their mean is the point
        assert terms[:, 2].sum() == pytest.approx(0, abs=1e-10)
        moved = sum(w * at[int(n)] for n, _, w in terms)
        assert np.allclose(moved, 0, atol=1e-9)


def test_a_deck_says_what_it_leaves_out():
    wound = spring_of("machine-half-loop", "machine-half-loop", {}, initial_tension=30)
    text = "".join(_text(wound, Elements("hex8", 0.6)))
    assert "wound with an initial tension of 30 N" in text
    assert "Never make an extension spring the only support" in text
    swivel = spring_of("coned-swivel-eye", "threaded-plug", {})
    said = _text(swivel, Elements("hex8", 0.9))
    assert "Not meshed, and taken as rigid: first.swivel." in said
    assert "tied to the wire that it holds: second.plug." in said


def _text(spring, elements):
    from io import StringIO

    from springgeo.files.formats.inp import blocks as written
    from springgeo.files.formats.inp import deck_of
    from springgeo.files.publish.exporter import ExportJob, StateFacts

    state = StateFacts("free", 0.0, spring.free_length)
    job = ExportJob(spring.model, spring.summary(), "deck", state, elements=elements)
    out = StringIO()
    out.writelines(f"{block}\n" for block in written(deck_of(job), job))
    return out.getvalue()


def test_the_same_bytes_again_in_another_process(tmp_path):
    pytest.importorskip("meshio")
    spring, names = spring_of(*ENDS["hooks"]), ("inp", "vtu", "msh")
    spring.export(tmp_path / "a", formats=names, elements=Elements("hex20", 0.9))
    code = (
        "import json, sys, springgeo as sg\n"
        "from springgeo.elements import Elements\n"
        "s = sg.Spring.from_dict(json.loads(sys.argv[2]))\n"
        "s.export(sys.argv[1], formats=sys.argv[3:], elements=Elements('hex20', 0.9))\n"
        "assert not {'OCP', 'vtk', 'cadquery'} & set(sys.modules)\n"
    )
    data = spring.spec.model_dump_json(exclude_none=True)
    subprocess.run([sys.executable, "-c", code, str(tmp_path / "b"), data, *names], check=True)
    for name in names:
        first, second = (tmp_path / f"{folder}/deck.{name}" for folder in "ab")
        assert first.read_bytes() == second.read_bytes()


@pytest.mark.parametrize("kind", ["hex20", "hex8", "beams"])
def test_meshes_hold_the_same_wire_for_a_reader_of_others(tmp_path, kind):
    meshio = pytest.importorskip("meshio")
    spring = spring_of(*ENDS["hooks"])
    files = spring.export(tmp_path, formats=["vtu", "msh"], elements=Elements(kind, 0.5))
    vtu, msh = (meshio.read(f) for f in files[:2])
    assert np.allclose(vtu.points, msh.points)
    assert np.array_equal(vtu.cells[0].data, msh.cells[0].data)
    assert {"BODY", "FIRST_BEND", "SECOND_LOOP"} <= set(msh.field_data)
    assert ("SURFACE" in msh.field_data) == (kind != "beams")
    along = vtu.cell_data["arc_length"][0]
    assert 0 < along.min() < along.max() < spring.centreline.length


@pytest.mark.parametrize(
    ("elements", "words"),
    [
        (lambda: Elements("hex20", 1e-4), "choose a larger size, such as"),
        (lambda: Elements("hex20", float("nan")), "not a length above zero"),
        (lambda: Elements("hex20", 0.0), "not a length above zero"),
        (lambda: Elements("tets"), "'tets' is not hex20, hex8 or beams"),
    ],
)
def test_what_cannot_be_meshed_is_refused_in_one_line(tmp_path, elements, words):
    with pytest.raises(SpecError) as caught:
        spring_of(*ENDS["hooks"]).export(tmp_path, formats=["inp"], elements=elements())
    assert words in str(caught.value)
    assert "\n" not in str(caught.value)
    assert list(tmp_path.iterdir()) == []


def test_a_loaded_state_is_no_deck_and_beams_need_hooks(tmp_path):
    with pytest.raises(SpecError, match="a deck starts from the free spring"):
        spring_of(*ENDS["hooks"]).export(tmp_path, formats=["inp"], states=["50N"])
    with pytest.raises(SpecError, match="beams need a hook"):
        spring_of(*ENDS["plug"]).export(tmp_path, formats=["inp"], elements=Elements("beams"))
    assert list(tmp_path.iterdir()) == []


@needs_ccx
@pytest.mark.parametrize(("kind", "off"), [("beams", 0.03), ("hex8", 0.03)])
def test_calculix_runs_a_deck_unchanged(tmp_path, kind, off):
    spring = spring_of(*ENDS["hooks"])
    spring.export(tmp_path, formats=["inp"], elements=Elements(kind, 0.9))
    linear, bent = solved.solve(tmp_path / "deck.inp")
    assert 1.0 / linear.moved[2] == pytest.approx(spring.along_the_wire.rate, rel=off)
    curve = spring.load_curve
    assert bent.moved[2] == pytest.approx(curve.length(100.0) - curve.free_length, rel=off)
    assert abs(linear.moved[:2]).max() < 1e-6


@needs_ccx
def test_a_spring_pulled_by_its_tied_plug_has_the_rate_of_one_held_rigid(tmp_path):
    body = {"hand": "left", "gap": 0.1}
    spring = spring_of("machine-half-loop", {"style": "threaded-plug", "coils": 2}, {}, **body)
    deck = tmp_path / "linear.inp"
    text = _text(spring, Elements("hex8", 0.9)).partition("*STEP, NLGEOM")[0]
    # the plug is as good as rigid; what its collar gives is told by one of a softer metal
    moved = []
    for modulus in ("206000", "2060"):
        deck.write_text(
            text.replace("FITTING\n*ELASTIC\n206000,", f"FITTING\n*ELASTIC\n{modulus},")
        )
        moved.append(solved.solve(deck)[0].moved[2])
    assert 1.0 / moved[0] == pytest.approx(spring.along_the_wire.rate, rel=0.03)
    steel = (moved[1] - moved[0]) / (2060**-1 - 206000**-1) / 206000
    assert 0 < steel < 1e-4 * moved[0]


def test_a_plugs_wire_and_seat_are_one_body_and_its_stud_another(deck):
    spring, text = deck
    cards = list(blocks(text))
    known = {o["NSET"]: set(numbers(d)) for k, o, d in cards if k == "*NSET"}
    bodies = {o["NSET"]: int(o["REF NODE"]) for k, o, _ in cards if k == "*RIGID BODY"}
    if not spring.model.geometry.parts:
        assert not bodies
        return
    assert set(bodies) == {"FIRST_SEAT", "FIRST_GRIP"}
    assert not known["FIRST_SEAT"] & known["FIRST_GRIP"]
    assert known["FIRST_PULL"] == {bodies["FIRST_GRIP"]}
    boundary = next(d for k, _, d in cards if k == "*BOUNDARY")
    assert bodies["FIRST_SEAT"] not in {int(x.split(",")[0]) for x in boundary}
    found = np.array(numbers(next(d for k, _, d in cards if k == "*NODE"))).reshape(-1, 4)
    part, axis = spring.model.geometry.parts[0], found[:, 1:]
    plug = next(d for k, o, d in cards if o.get("ELSET") == "FIRST_PLUG" and k == "*ELEMENT")
    own = np.unique(np.array(numbers(plug)).reshape(-1, 21)[:, 1:]).astype(int)
    for name, (radius, _) in (("SEAT", part.form.profile[0]), ("GRIP", part.form.profile[-1])):
        held = [n - 1 for n in own if n in known[f"FIRST_{name}"]]
        assert np.hypot(*(axis[held] - part.origin)[:, :2].T) == pytest.approx(radius)


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize(("order", "off"), [(1, 1e-12), (2, 3e-4)])
def test_a_plug_in_hexahedra_has_its_volume_in_closed_form(hand, order, off):
    spring = spring_of("threaded-plug", "threaded-plug", {}, gap=0.1, hand=hand)
    for part in spring.model.geometry.parts:
        made = Fitting.of(part, order)
        whole, least = volume(made.nodes, made.elements)
        assert least > 0
        assert whole == pytest.approx(part.volume, rel=off)
        box = np.array([made.nodes.min(axis=0), made.nodes.max(axis=0)])
        assert box[:, 2] == pytest.approx(part.box[:, 2])


def test_only_parts_of_cylinders_are_meshed():
    for style in ("coned-swivel-eye", "coned-swivel-bolt", "screwed-in-shackle"):
        parts = spring_of(style, "machine-half-loop", {}).model.geometry.parts
        assert [Fitting.of(p, 2) for p in parts] == [None], style


@needs_ccx
@pytest.mark.slow
def test_rate_and_peaks_are_those_of_calculix(tmp_path):
    for what, ours, theirs in compare("half loops", None, tmp_path):
        bound = RATE if what in ("rate", "extension") else PEAK
        assert ours == pytest.approx(theirs, rel=bound / 100), what


@pytest.mark.parametrize("ends", ["hooks", "plug"])
def test_a_deck_is_inspected_and_a_changed_one_told(tmp_path, ends):
    spring = spring_of(*ENDS[ends])
    spring.export(tmp_path, formats=["inp"], elements=Elements("hex8", 0.9))
    found = inspect_file(tmp_path / "deck.inp")
    assert found.matches
    assert found.summary["name"] == "deck"
    # a node of the surface a little off, which the volume tells
    text = (tmp_path / "deck.inp").read_text()
    surface = next(numbers(d) for _, o, d in blocks(text) if o.get("NSET") == "SURFACE_NODES")
    node = f"{surface[30]:.0f},"
    line = next(x for x in text.splitlines() if x.startswith(node))
    x, y, z = numbers([line])[1:]
    (tmp_path / "deck.inp").write_text(text.replace(line, f"{node}{1.03 * x},{1.03 * y},{z}"))
    assert not inspect_file(tmp_path / "deck.inp").matches


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [
        ("summary=", "sum=", "not one of springgeo"),
        ("TYPE=C3D20R", "TYPE=B32R", "a deck of beams has no volume"),
        ("*NODE, NSET", "*NODES, NSET", "no nodes"),
        ("\n2,", "\n3,", "not numbered from 1"),
        ("\n7,", "\n7,x", "cannot inspect"),
        ("\n30,-", "\n30,", "folded"),
    ],
)
def test_a_damaged_deck_is_one_line(tmp_path, before, after, words):
    spring_of(*ENDS["hooks"]).export(tmp_path, formats=["inp"], elements=Elements("hex20", 0.9))
    file = tmp_path / "deck.inp"
    file.write_text(file.read_text().replace(before, after, 1))
    with pytest.raises(FileError) as caught:
        read_found(file)
    assert words in str(caught.value)
    assert "\n" not in str(caught.value)


def test_without_meshio_a_mesh_is_refused_in_one_line(tmp_path, monkeypatch):
    monkeypatch.setitem(sys.modules, "meshio", None)
    with pytest.raises(MissingLibraryError, match=r"springgeo\[analysis\]") as caught:
        spring_of(*ENDS["hooks"]).export(tmp_path, formats=["vtu"], elements=Elements("hex8", 0.9))
    assert "\n" not in str(caught.value)
    assert list(tmp_path.iterdir()) == []


def test_an_end_that_cannot_turn_is_rigid_where_it_is_held():
    spring = spring_of(*ENDS["hooks"])
    held = spring.with_(mating={"first": {"holding": "held"}, "second": {"holding": "kept"}})
    cards = list(blocks(_text(held, Elements("hex8", 0.9))))
    turn = {o["NSET"]: int(o["ROT NODE"]) for k, o, _ in cards if k == "*RIGID BODY"}
    boundary = next(d for k, _, d in cards if k == "*BOUNDARY")
    rows = {tuple(map(int, x.split(",")[:2])) for x in boundary}
    first, second = turn["FIRST_GRIP"], turn["SECOND_GRIP"]
    assert {(first, 1), (first, 2), (first, 3), (second, 3)} <= rows
    assert not {(second, 1), (second, 2)} & rows
    # nothing else needs to keep it from turning about the pull
    assert len(boundary) == 5 + 4


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--format", "stl", "--element-size", "0.3mm"], "add --format inp, vtu or msh"),
        (["--elements", "beams"], "add --format inp, vtu or msh"),
        (["--format", "inp", "--element-size", "thin"], "--element-size"),
        (["--format", "inp", "--element-size", "0mm"], "not a length above zero"),
        (["--format", "inp", "--element-size", "1e-9mm"], "choose a larger size"),
    ],
)
def test_the_command_refuses_in_one_line(tmp_path, monkeypatch, capsys, words, said):
    monkeypatch.chdir(tmp_path)
    assert run(["build", "--preset", "gate-latch", *words]) == 2
    err = capsys.readouterr().err.strip()
    assert said in err
    assert "\n" not in err
    assert list(tmp_path.iterdir()) == []

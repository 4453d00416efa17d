"""Several states in one go: named files, one manifest with true hashes."""

import hashlib
import json

import pytest

from springgeo.cli.main import run
from springgeo.errors import SpecError
from springgeo.text.state_words import parse_state
from tests.springs import kept

pytestmark = pytest.mark.usefixtures("presets_kept")

PRESET = ["--preset", "gate-latch"]


def build(folder, *words):
    return run(["build", *PRESET, "-o", str(folder), *words])


def test_states_are_named_and_hashed(tmp_path, capsys):
    words = [w for s in ("free", "25N", "60 mm") for w in ("--state", s)]
    assert build(tmp_path, *words, "--format", "stl", "--format", "glb") == 0
    stem = "gate-latch-return-spring"
    names = [f"{stem}-{s}.{e}" for s in ("free", "25N", "60mm") for e in ("stl", "glb")]
    assert sorted(p.name for p in tmp_path.iterdir()) == sorted(
        [*names, f"{stem}.json", "manifest.json"]
    )
    manifest = json.loads((tmp_path / "manifest.json").read_text())
    assert [f["file"] for f in manifest["files"]] == [*names, f"{stem}.json"]
    for entry in manifest["files"]:
        data = (tmp_path / entry["file"]).read_bytes()
        assert entry["sha256"] == hashlib.sha256(data).hexdigest()
        assert entry["bytes"] == len(data)
    lengths = {f["shape"]["state"]: f["shape"]["length"] for f in manifest["files"][:-1]}
    assert lengths["60mm"] == pytest.approx(60)
    assert lengths["free"] < lengths["25N"] < lengths["60mm"]
    capsys.readouterr()
    for name in names:
        assert run(["inspect", str(tmp_path / name), "--strict"]) == 0
        assert "verdict: matches" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("word", "message"),
    [("25", "has no unit"), ("25 kg", "neither free"), ("", "neither free"), ("NaN N", "neither")],
)
def test_words_that_are_no_state(word, message):
    with pytest.raises(SpecError, match=message):
        parse_state(word)


def test_a_state_given_twice():
    with pytest.raises(SpecError, match="given twice"):
        kept("gate-latch").named_states(["25N", "25 N"])


@pytest.mark.parametrize("word", ["1mm", "1000 m", "-3N", "1e9 N"])
def test_states_out_of_reach_leave_nothing(tmp_path, capsys, word):
    assert build(tmp_path / "out", "--state", word) == 2
    assert capsys.readouterr().err.count("\n") == 1
    assert not (tmp_path / "out").exists()

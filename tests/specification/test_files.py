"""A specification file is untrusted text: bounded, without tags or aliases, never executed."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from springgeo import materials
from springgeo.errors import FileError, SpecError
from springgeo.family import read_family
from springgeo.measure import read_readings
from springgeo.sizing import read_job
from springgeo.specification.load import read_spec
from springgeo.text.safe_yaml import DEEPEST, LARGEST
from springgeo.text.yaml_text import read_yaml

LAUGHS = "a: &a [lol]\n" + "\n".join(
    f"{c}: &{c} [{', '.join([f'*{p}'] * 9)}]" for p, c in zip("abcdefgh", "bcdefghi", strict=True)
)


def _refusal(text: str) -> str:
    with pytest.raises(SpecError) as caught:
        read_yaml(text, "spring.yaml")
    (finding,) = caught.value.findings
    assert finding.code == "bad-yaml"
    assert finding.field == "spring.yaml"
    assert "\n" not in finding.message
    assert len(finding.message) <= 300
    return finding.message


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (LAUGHS, "aliases"),
        ("a: &x 1\nb: *x", "line 2, column 4: aliases"),
        ("a: !!python/object/apply:os.system ['true']", "line 1, column 4"),
        ("a: !!python/name:os.system", "tags ("),
        ("a: !custom 3", "!custom"),
        ("name: a\nname: b", "line 2, column 1: key 'name' is given twice"),
        ("wire: {diameter: 1, diameter: 2}", "key 'diameter' is given twice"),
        ("a: " + "[" * 10_000, "nested deeper than 20"),
        ("a: " + "[" * 10_000 + "]" * 10_000, "nested deeper than 20"),
        ("{a: " * 10_000, "nested deeper than 20"),
        ("- a\n- b", "needs a mapping at the top"),
        ("just words", "needs a mapping at the top"),
        ("", "needs a mapping at the top"),
        ("# nothing but a remark", "needs a mapping at the top"),
        ("a: [1, 2", "line 1"),
        ("a: 'open", "line 1"),
        ("a: b: c", "line 1, column 5"),
        ("\tname: x", "line 1"),
        ("a: 1\n---\nb: 2", "line 2"),
        ("\x00\x01", "line 1: has the character U+0000"),
        ("a: " + "9" * 5000, "a number of 5000 digits"),
        ("a: !!int ''", "line 1, column 4: tags"),
        ("a: !!bool q", "tags"),
        ("a: !!timestamp x", "tags"),
        ("a: ! 3", "tags"),
        ('a: "\\UFFFFFFFF"', "not readable YAML"),
        ("%YAML 1." + "9" * 5000 + "\n---\na: 1", "not readable YAML"),
        ("a:\n\tb: 1", "line 2, column 1: a tab stands where YAML wants spaces"),
        ("a: \x1b", "line 1: has the character U+001B"),
        ("a: [" + "9," * 30_001 + "]", "more than 30000 values"),
        ("{? [1, 2] : 3}", "line 1"),
        ("x" * (LARGEST + 1), "larger than"),
    ],
    ids=lambda v: repr(v[:24]),
)
def test_refused(text: str, words: str) -> None:
    assert words in _refusal(text)


def test_as_deep_as_allowed_passes() -> None:
    deep = DEEPEST - 1
    assert read_yaml("a: " + "[" * (deep - 1) + "]" * (deep - 1), "x")


@pytest.mark.parametrize(
    "data", [b"\xff\xfe\x00\x01", b"name: \xe9", b"\x89PNG\r\n\x1a\n\x00\x00", os.urandom(4096)]
)
def test_not_utf8(tmp_path: Path, data: bytes) -> None:
    file = tmp_path / "spring.yaml"
    file.write_bytes(data + b"\xff")
    with pytest.raises(FileError, match=r"not UTF-8 text"):
        read_spec(file)


def test_a_byte_order_mark_is_no_harm(tmp_path: Path, good: dict[str, object]) -> None:
    import yaml

    file = tmp_path / "spring.yaml"
    file.write_bytes(b"\xef\xbb\xbf" + yaml.safe_dump(good).encode())
    assert read_spec(file).name == "test spring"


def test_a_huge_file_is_not_even_read(tmp_path: Path) -> None:
    file = tmp_path / "spring.yaml"
    with file.open("wb") as f:
        f.truncate(50_000_000_000)  # sparse: takes no room
    with pytest.raises(FileError, match="larger than 1 MB"):
        read_spec(file)


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="no such device here")
def test_a_device_without_end_is_not_read() -> None:
    with pytest.raises(FileError, match="no regular file"):
        read_spec("/dev/zero")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes with names here")
def test_a_pipe_that_nobody_writes_to_is_not_waited_for(tmp_path: Path) -> None:
    for read in (read_spec, read_job, read_readings, read_family, materials.load):
        pipe = tmp_path / f"{read.__name__}.yaml"
        os.mkfifo(pipe)
        with pytest.raises(FileError, match="no regular file"):
            read(pipe)


def test_plain_words_are_those_of_yaml_1_2() -> None:
    """Numbers are decimal (YAML 1.2, section 10.3.2, core schema); dates and sixties are text."""
    text = "a: 010\nb: 1:30\nc: no\nd: 2024-05-01\ne: 1e3\nf: 0x10\ng: ~\nh: true\ni: [.5, -2]"
    assert read_yaml(text, "x") == {
        "a": 10,
        "b": "1:30",
        "c": "no",
        "d": "2024-05-01",
        "e": 1000.0,
        "f": "0x10",
        "g": None,
        "h": True,
        "i": [0.5, -2],
    }


def test_the_nearest_file_is_named(tmp_path: Path) -> None:
    (tmp_path / "spring.yaml").write_text("name: x")
    with pytest.raises(FileError, match=r"did you mean 'spring\.yaml'\?"):
        read_spec(tmp_path / "sprign.yaml")
    with pytest.raises(FileError, match="there is no folder"):
        read_spec(tmp_path / "none" / "spring.yaml")


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    loop = tmp_path / "loop"
    loop.symlink_to(loop)
    plain = tmp_path / "plain"
    plain.write_text("name: x")
    for bad in (tmp_path, tmp_path / "none.yaml", loop, plain / "in.yaml", "x" * 5000, "a\0b"):
        with pytest.raises(FileError, match="cannot read"):
            read_spec(bad)


@settings(max_examples=200)
@given(st.text(max_size=200))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        read_yaml(text, "x")
    except SpecError:
        return

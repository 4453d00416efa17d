"""A specification file is untrusted text: bounded, without tags or aliases, never executed."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from springgeo.errors import FileError, SpecError
from springgeo.specification.load import read_spec
from springgeo.text.safe_yaml import DEEPEST, LARGEST
from springgeo.text.yaml_text import read_yaml

LAUGHS = "a: &a [lol]\n" + "\n".join(
    f"{c}: &{c} [{', '.join([f'*{p}'] * 9)}]" for p, c in zip("abcdefgh", "bcdefghi", strict=True)
)


def _refusal(text: str) -> str:
    started = time.perf_counter()
    with pytest.raises(SpecError) as caught:
        read_yaml(text, "spring.yaml")
    assert time.perf_counter() - started < 2.0
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
        ("a: !!python/name:os.system", "could not determine a constructor"),
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
        ("\x00\x01", "not readable YAML"),
        ("a: " + "9" * 5000, "not readable YAML"),
        ("a: 2001-99-99", "not readable YAML"),
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
    with pytest.raises(SpecError, match=r"not a UTF-8 text file"):
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
    with pytest.raises(SpecError, match="larger than 1000000 bytes"):
        read_spec(file)


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="no such device here")
def test_a_device_without_end_is_read_no_further_than_the_limit() -> None:
    with pytest.raises(SpecError, match="larger than 1000000 bytes"):
        read_spec("/dev/zero")


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

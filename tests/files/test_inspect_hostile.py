"""Files made to harm the reader: one line, code 2, bounded time and memory."""

from __future__ import annotations

import json
import os
import re
import resource
import struct
import subprocess
import sys
import zipfile
from pathlib import Path
from typing import Any

import pytest

from springgeo.cli.main import run
from springgeo.errors import FileError
from springgeo.files import apart
from springgeo.files.apart import Limits, inspected_apart
from springgeo.files.formats.threemf_package import CORE, MODEL
from springgeo.files.inspect import inspect_file
from springgeo.files.inspection import inspect_here

read_here = pytest.mark.usefixtures("read_here")
posix = pytest.mark.skipif(os.name != "posix", reason="needs limits of a process")


def refused(file: Path, capsys: pytest.CaptureFixture[str]) -> str:
    assert run(["inspect", str(file)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
    assert "Traceback" not in err
    return err


def glb(document: bytes | dict[str, Any], binary: bytes = b"") -> bytes:
    text = document if isinstance(document, bytes) else json.dumps(document).encode()
    text += b" " * (-len(text) % 4)
    chunks = struct.pack("<I4s", len(text), b"JSON") + text
    chunks += struct.pack("<I4s", len(binary), b"BIN\0") + binary
    return struct.pack("<4sII", b"glTF", 2, 12 + len(chunks)) + chunks


@posix
def test_a_pipe_and_a_device_are_not_read(tmp_path, capsys):
    os.mkfifo(tmp_path / "a.step")
    assert "not a regular file" in refused(tmp_path / "a.step", capsys)
    (tmp_path / "b.stl").symlink_to("/dev/zero")
    assert "not a regular file" in refused(tmp_path / "b.stl", capsys)


@posix
def test_a_pipe_beside_a_file_is_not_read(built, tmp_path, capsys):
    (tmp_path / "test-spring.stl").write_bytes((built / "test-spring.stl").read_bytes())
    os.mkfifo(tmp_path / "test-spring.json")
    os.mkfifo(tmp_path / "manifest.json")
    assert "no springgeo summary inside" in refused(tmp_path / "test-spring.stl", capsys)


def test_a_manifest_names_no_file_elsewhere(built, tmp_path):
    folder = tmp_path / "inner"
    folder.mkdir()
    (folder / "test-spring.stl").write_bytes((built / "test-spring.stl").read_bytes())
    (tmp_path / "far.json").write_bytes((built / "test-spring.json").read_bytes())
    entry = {"files": [{"file": "test-spring.stl"}], "summary": "../far.json"}
    (folder / "manifest.json").write_text(json.dumps(entry))
    with pytest.raises(FileError, match="no springgeo summary"):
        inspect_file(folder / "test-spring.stl")


@posix
def test_a_3mf_that_unpacks_to_160_mb_takes_little_memory(tmp_path, capsys):
    row = b'<vertex x="1.0" y="2.0" z="3.0"/>\n' * 50_000
    file = tmp_path / "bomb.3mf"
    with (
        zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive,
        archive.open(MODEL, "w") as stream,
    ):
        stream.write(f'<model xmlns="{CORE}"><mesh>'.encode())
        for _ in range(160_000_000 // len(row)):
            stream.write(row)
    assert (tmp_path / "bomb.3mf").stat().st_size < 1_000_000
    assert "unpacks to 160 MB, more than" in refused(tmp_path / "bomb.3mf", capsys)


@posix
def test_what_unpacks_within_the_limit_is_read_with_little_memory(tmp_path):
    """40 MB of XML: the numbers in it take 11 MB, and the whole process 0.3 GB."""
    row = b'<vertex x="1.0" y="2.0" z="3.0"/>\n' * 1000
    with zipfile.ZipFile(tmp_path / "large.3mf", "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("pad", os.urandom(600_000))
        with archive.open(MODEL, "w") as stream:
            stream.write(f'<model xmlns="{CORE}"><mesh>'.encode())
            for _ in range(40_000_000 // len(row)):
                stream.write(row)
            stream.write(b"</mesh></model>")
    script = (
        "import resource, sys\n"
        "from springgeo.files.inspect import inspect_file\n"
        "try: inspect_file(sys.argv[1])\n"
        "except OSError as exc: print(exc)\n"
        "print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, str(tmp_path / "large.3mf")],
        capture_output=True,
        text=True,
        check=True,
    )
    words, peak = done.stdout.splitlines()
    assert "without a springgeo summary" in words
    assert int(peak) < 300_000  # kB


@pytest.mark.parametrize("method", [zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA, zipfile.ZIP_DEFLATED])
def test_bad_compression(tmp_path, capsys, method):
    file = tmp_path / "a.3mf"
    with zipfile.ZipFile(file, "w", method) as archive:
        archive.writestr(MODEL, b"<model/>" + os.urandom(4000))
    data = file.read_bytes()
    at = data.index(MODEL.encode()) + len(MODEL)
    for step in range(1, 60, 7):
        file.write_bytes(data[: at + step] + b"\xa5\x5a\xa5" + data[at + step + 3 :])
        # none of these libraries takes the process with it
        with pytest.raises(FileError):
            inspect_here(file)
    file.write_bytes(data.replace(struct.pack("<H", method), struct.pack("<H", 77), 1))
    refused(file, capsys)


DOCUMENTS: list[Any] = [
    {"nodes": 7},
    {"nodes": ["x", None, 3, [], {"extras": 4}]},
    {"nodes": [{"extras": {"springgeo-summary": 5}}], "meshes": 3},
    {"nodes": [{"extras": {"springgeo-summary": {}}}], "meshes": ["a"]},
    {"nodes": [{"extras": {"springgeo-summary": {}}}], "meshes": [{"primitives": {}}]},
    {"nodes": [{"extras": {"springgeo-summary": {"a": 1}}}], "meshes": []},
    b"[" * 100_000,
    b'{"nodes": ' + b'[{"a":' * 5_000,
    b'{"nodes": [{"extras": {"springgeo-summary": {"a": NaN}}}]}',
    b'{"nodes": ' + b"9" * 6000 + b"}",
    b"\xff\xfe\x00",
    b"",
]


@read_here
@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda d: str(d)[:40])
def test_json_of_wrong_types_in_a_glb(tmp_path, capsys, document):
    file = tmp_path / "a.glb"
    file.write_bytes(glb(document))
    refused(file, capsys)


def with_accessors(**changed: Any) -> bytes:
    view = {"byteOffset": 0, "byteLength": 36, **changed}
    primitive = {"attributes": {"POSITION": 0}, "indices": 1}
    document = {
        "nodes": [{"extras": {"springgeo-summary": {"schema_version": "springgeo-summary/1"}}}],
        "meshes": [{"primitives": [primitive]}],
        "accessors": [{"bufferView": 0}, {"bufferView": 1}],
        "bufferViews": [view, {"byteOffset": 36, "byteLength": 12}],
    }
    points = struct.pack("<9f", *range(9)) + struct.pack("<3I", 0, 1, 2)
    return glb(document, points)


@read_here
@pytest.mark.parametrize("value", [-36, 1.5, "36", None, [], 10**400, 37])
@pytest.mark.parametrize("name", ["byteOffset", "byteLength"])
def test_lengths_of_wrong_types_in_a_glb(tmp_path, capsys, name, value):
    file = tmp_path / "a.glb"
    file.write_bytes(with_accessors(**{name: value}))
    refused(file, capsys)


SUMMARIES: list[dict[str, Any]] = [
    {},
    {"name": 5, "geometry": 3, "initial_tension": [], "material": "steel", "cautions": "none"},
    {"name": "a\x1b[31m\nb", "material": {"title": {"x": 1}}, "cautions": [1, None]},
    {"specification": "none", "rate": {"a": []}, "geometry": {"free_length": []}},
    {"specification": {"wire": 3}, "cautions": {"a": 1}},
]


@read_here
@pytest.mark.parametrize("summary", SUMMARIES, ids=str)
@pytest.mark.parametrize("as_json", [True, False])
def test_a_summary_of_wrong_types_is_shown_as_far_as_it_goes(tmp_path, capsys, summary, as_json):
    file = tmp_path / "a.glb"
    data = with_accessors()
    words = {"schema_version": "springgeo-summary/1", **summary}
    length = struct.unpack_from("<I", data, 12)[0]
    document = json.loads(data[20 : 20 + length])
    document["nodes"][0]["extras"]["springgeo-summary"] = words
    file.write_bytes(glb(document, data[28 + length :]))
    assert run(["inspect", str(file), *(["--json"] if as_json else [])]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    assert "\x1b" not in out


SHAPES: list[Any] = [
    3,
    {},
    {"volume": "x", "box": []},
    {"volume": 1, "box": [[0, 0, 0], [1, 1]]},
    {"volume": 1e999, "box": [[0, 0, 0], [1, 1, 1]]},
    {"volume": 1, "box": [[0, 0, "a"], [1, 1, 1]]},
    {"volume": None, "box": {"a": 1}},
    {"volume": 1, "box": 10**400},
]


@read_here
@pytest.mark.parametrize("shape", SHAPES, ids=str)
def test_a_statement_of_shape_of_wrong_types(tmp_path, capsys, shape):
    data = with_accessors()
    length = struct.unpack_from("<I", data, 12)[0]
    document = json.loads(data[20 : 20 + length])
    document["nodes"][0]["extras"]["springgeo-shape"] = shape
    (tmp_path / "a.glb").write_bytes(glb(document, data[28 + length :]))
    refused(tmp_path / "a.glb", capsys)


KINDS = [
    "EDGE_LOOP",
    "LINE",
    pytest.param("DEFINITIONAL_REPRESENTATION", marks=pytest.mark.slow),
    pytest.param("VECTOR", marks=pytest.mark.slow),
]


@posix
@pytest.mark.parametrize("kind", KINDS)
def test_a_step_file_that_brings_the_kernel_down_is_one_line(built, tmp_path, capsys, kind):
    """A reference left out: the kernel follows it without asking."""
    text = (built / "test-spring.step").read_text()
    low, high = next(re.finditer(rf"= ?{kind}\([^;]*?(#\d+)", text)).span(1)
    (tmp_path / "a.step").write_text(f"{text[:low]}${text[high:]}")
    assert "it is damaged: the process that read it was ended by SIG" in refused(
        tmp_path / "a.step", capsys
    )


CRASH = """
import os, signal, sys
if sys.argv[2].endswith("crash.stl"):
    os.kill(os.getpid(), signal.SIGSEGV)
if sys.argv[2].endswith("fail.stl"):
    raise RuntimeError("a\\tb")
if sys.argv[2].endswith("grow.stl"):
    from springgeo.files.apart_child import _limit
    _limit(int(sys.argv[3]), int(sys.argv[4]))
    b = bytearray(10**10)
while True:
    from springgeo.files.apart_child import _limit
    _limit(1, int(sys.argv[4]))
"""


@posix
@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("crash.stl", "ended by SIGSEGV"),
        ("fail.stl", "left with 1 (RuntimeError: a b)"),
        ("grow.stl", "left with 1 (MemoryError)"),
        ("hang.stl", "took more than 1 s"),
    ],
)
def test_whatever_becomes_of_the_child_is_one_line(tmp_path, monkeypatch, name, words):
    def command(_module: str, *arguments: str) -> list[str]:
        return [sys.executable, "-c", CRASH, *arguments]

    monkeypatch.setattr(apart, "child_command", command)
    (tmp_path / name).write_bytes(b"")
    with pytest.raises(FileError) as caught:
        inspected_apart(tmp_path / name, Limits(1, 30.0, 2 * 10**9))
    assert words in str(caught.value)
    assert "\n" not in str(caught.value)


@posix
def test_a_child_that_gets_no_processor_is_not_called_damaged_alone(tmp_path, monkeypatch):
    """On a busy machine a sound file is late by the clock; it has not computed too long."""
    monkeypatch.setattr(
        apart, "child_command", lambda *_: [sys.executable, "-c", "import time; time.sleep(60)"]
    )
    (tmp_path / "sound.stl").write_bytes(b"")
    with pytest.raises(FileError, match=r"0\.2 s on the clock; the machine is busy, or the file"):
        inspected_apart(tmp_path / "sound.stl", Limits(8, 0.2, 2 * 10**9))


@posix
def test_the_child_keeps_to_its_memory(built):
    """Little address space: the kernel cannot even be loaded, and the answer is a line."""
    with pytest.raises(FileError, match=r"memory|damaged"):
        inspected_apart(built / "test-spring.step", Limits(30, 60.0, 300_000_000))


@posix
def test_limits_of_the_child_do_not_stay_here():
    assert resource.getrlimit(resource.RLIMIT_AS)[0] == resource.RLIM_INFINITY

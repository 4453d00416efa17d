"""Names, folders, full disks, killed and simultaneous runs: complete files or none."""

import json
import os
import signal
import subprocess
import sys
import threading
from contextlib import contextmanager

import pytest

from springgeo.api import Spring
from springgeo.cli.main import run
from springgeo.errors import FileError
from springgeo.files.publish.bundle import export_bundle
from springgeo.files.publish.naming import file_stem, suffix
from springgeo.publish.atomic import staged

from .conftest import SPEC

pytestmark = pytest.mark.usefixtures("presets_kept")

FORMATS = ["stl", "3mf", "glb"]


def names(folder):
    return sorted(p.name for p in folder.iterdir())


@pytest.mark.parametrize(
    ("name", "stem"),
    [
        ("Rückholfeder Nr. 7", "ruckholfeder-nr-7"),
        ("  spaces   everywhere ", "spaces-everywhere"),
        ("弹簧", "spring"),
        ("../../etc/passwd", "etc-passwd"),
        ("a" * 200, "a" * 80),
        ("CON:<>|?*\\", "con-spring"),
        ("\u202e\U0001f300", "spring"),
    ],
)
def test_any_name_gives_a_safe_file(tmp_path, name, stem):
    assert file_stem(name) == stem
    try:
        spring = Spring.from_dict(SPEC | {"name": name})
    except ValueError:  # the specification has its own limits on names
        return
    export_bundle(spring.model, tmp_path, formats=["stl"])
    assert names(tmp_path) == [f"{stem}.json", f"{stem}.stl"]


def test_states_give_safe_endings():
    assert suffix("25.5N") == "25.5N"
    assert suffix('1"/../x µm') == "1-..-x-m"
    assert "/" not in suffix("/../")


@pytest.mark.parametrize("folder", ["with space", "ünïcödé 弹簧", "x" * 200])
def test_any_folder_name(tmp_path, spring, folder):
    files = spring.build(tmp_path / folder, formats=FORMATS).files
    assert all(f.is_file() for f in files)
    assert len(names(tmp_path / folder)) == len(files) == 4


def test_a_folder_name_that_is_too_long(tmp_path, spring):
    with pytest.raises(FileError, match="too long"):
        spring.build(tmp_path / ("x" * 300), formats=["stl"])
    assert names(tmp_path) == []


def test_a_write_that_fails_half_way_leaves_nothing(tmp_path, spring, monkeypatch):
    from springgeo.files.publish import registry
    from springgeo.files.publish.exporter import Exporter

    def full(target, job):
        target.write_bytes(b"half")
        raise OSError(28, "No space left on device")

    real = registry.get
    broken = Exporter("glb", "glb", "", full)
    monkeypatch.setattr(registry, "get", lambda n: broken if n == "glb" else real(n))
    with pytest.raises(FileError, match="no space left on device"):
        spring.build(tmp_path / "a" / "b", formats=FORMATS)
    assert names(tmp_path) == []


@contextmanager
def small_disk(size):
    """Let no file of this process grow beyond ``size`` bytes."""
    import resource

    kind = resource.RLIMIT_FSIZE
    before, action = resource.getrlimit(kind), signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(kind, (size, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(kind, before)
        signal.signal(signal.SIGXFSZ, action)


@pytest.mark.skipif(sys.platform == "win32", reason="needs limits on file sizes")
@pytest.mark.parametrize("kind", ["step", "brep", "stl", "3mf", "glb", "obj", "ply"])
def test_a_file_that_does_not_fit(tmp_path, kind, capsys):
    out = tmp_path / "out"
    with small_disk(30000):
        code = run(["build", "--preset", "gate-latch", "-o", str(out), "--format", kind])
    assert code == 2
    err = capsys.readouterr().err
    assert err.startswith("springgeo: ")
    assert err.count("\n") == 1
    assert not out.exists()


KILLED = """
import os, pathlib, signal, sys
from springgeo.api import Spring
from springgeo.files.publish.bundle import export_bundle
when, replace, calls = int(sys.argv[2]), os.replace, []
def counted(*args):
    if len(calls) == when:
        os.kill(os.getpid(), signal.SIGKILL)
    calls.append(args)
    replace(*args)
os.replace = counted
model = Spring.from_preset("gate-latch").model
export_bundle(model, pathlib.Path(sys.argv[1]), formats=["stl", "3mf", "glb"])
"""


@pytest.mark.skipif(os.name != "posix", reason="needs SIGKILL")
@pytest.mark.parametrize(
    "when", [pytest.param(0, marks=pytest.mark.slow), 1, pytest.param(2, marks=pytest.mark.slow), 3]
)
def test_a_run_killed_between_renames_leaves_no_summary(tmp_path, when):
    stem = "gate-latch-return-spring"
    (tmp_path / f"{stem}.json").write_text("old")
    (tmp_path / f"{stem}.stl").write_text("old")
    command = [sys.executable, "-c", KILLED, str(tmp_path), str(when)]
    assert subprocess.run(command, check=False).returncode == -signal.SIGKILL
    assert not (tmp_path / f"{stem}.json").exists()
    assert run(["build", "--preset", "gate-latch", "-o", str(tmp_path), "--format", "stl"]) == 0
    assert json.loads((tmp_path / f"{stem}.json").read_text())["name"]


def test_a_rename_that_fails_brings_the_old_files_back(tmp_path, monkeypatch):
    for name in ("a", "z"):
        (tmp_path / name).write_text("old")
    replace, calls = os.replace, []

    def fails_once(*args):
        calls.append(args)
        if len(calls) == 3:
            raise OSError(5, "Input/output error")
        replace(*args)

    monkeypatch.setattr(os, "replace", fails_once)

    def write():
        with staged(tmp_path, last="z") as stage:
            for name in ("a", "b", "c", "z"):
                (stage / name).write_text("new")

    with pytest.raises(FileError, match="input/output error"):
        write()
    assert names(tmp_path) == ["a", "z"]
    assert {(tmp_path / n).read_text() for n in names(tmp_path)} == {"old"}


def test_simultaneous_runs_never_mix(tmp_path):
    def write(mark):
        for _ in range(30):
            with staged(tmp_path, last="z") as stage:
                for name in "abcz":
                    (stage / name).write_text(mark)

    threads = [threading.Thread(target=write, args=(m,)) for m in "1234"]
    for t in threads:
        t.start()
    for t in threads:
        t.join()
    assert names(tmp_path) == ["a", "b", "c", "z"]
    assert len({(tmp_path / n).read_text() for n in "abcz"}) == 1


def test_simultaneous_processes_into_one_folder(tmp_path):
    script = (
        "import sys; from springgeo.cli.main import run; "
        "sys.exit(run(['build', '--preset', 'gate-latch', '-o', sys.argv[1], "
        "'--format', 'stl', '--format', 'glb', '--state', 'free', '--state', sys.argv[2]]))"
    )
    running = [
        subprocess.Popen(
            [sys.executable, "-c", script, str(tmp_path), state], stdout=subprocess.DEVNULL
        )
        for state in ("20N", "25N", "20N")
    ]
    assert [p.wait() for p in running] == [0, 0, 0]
    assert not [n for n in names(tmp_path) if n.startswith(".")]
    manifest = json.loads((tmp_path / "manifest.json").read_text())
    import hashlib

    for entry in manifest["files"]:
        data = (tmp_path / entry["file"]).read_bytes()
        assert hashlib.sha256(data).hexdigest() == entry["sha256"]


def test_a_manifest_does_not_outlive_the_files_it_lists(tmp_path):
    def build(coils, *words):
        spec = tmp_path / "spec.yaml"
        spec.write_text(json.dumps(SPEC | {"body": SPEC["body"] | {"coils": coils}}))
        assert (
            run(["build", str(spec), "-o", str(tmp_path / "out"), "--format", "stl", *words]) == 0
        )

    manifest = tmp_path / "out" / "manifest.json"
    build(3, "--state", "free")
    build(3)
    assert manifest.exists()  # nothing it lists has changed
    build(4)
    assert not manifest.exists()
    manifest.write_text('{"files": [{"file": "test-spring.json", "sha256": ""}]}')
    build(5)
    assert manifest.exists()  # somebody else's

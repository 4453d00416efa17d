"""Files are published whole or not at all."""

import errno
import os
import signal
import subprocess
import sys

import pytest

from springgeo.errors import FileError
from springgeo.publish.atomic import atomic_write, staged


def names(folder):
    return sorted(p.name for p in folder.iterdir())


def test_a_file_is_written_and_replaced(tmp_path):
    target = tmp_path / "a.txt"
    atomic_write(target, b"one")
    atomic_write(str(target), b"two")
    assert target.read_bytes() == b"two"
    assert names(tmp_path) == ["a.txt"]


def test_new_files_have_ordinary_permissions(tmp_path):
    (tmp_path / "plain").write_bytes(b"")
    atomic_write(tmp_path / "a", b"")
    assert (tmp_path / "a").stat().st_mode == (tmp_path / "plain").stat().st_mode


def test_nothing_shows_before_the_end(tmp_path):
    with staged(tmp_path) as stage:
        (stage / "a").write_bytes(b"1")
        (stage / "b").write_bytes(b"2")
        assert not (tmp_path / "a").exists()
    assert names(tmp_path) == ["a", "b"]


def test_an_error_leaves_the_old_files(tmp_path):
    (tmp_path / "a").write_bytes(b"old")

    def fail():
        with staged(tmp_path) as stage:
            (stage / "a").write_bytes(b"new")
            (stage / "b").write_bytes(b"new")
            raise KeyError("x")

    with pytest.raises(KeyError):
        fail()
    assert names(tmp_path) == ["a"]
    assert (tmp_path / "a").read_bytes() == b"old"


def test_stages_nest(tmp_path):
    with staged(tmp_path) as stage:
        atomic_write(stage / "a", b"1")
    assert names(tmp_path) == ["a"]


def test_a_missing_folder(tmp_path):
    with pytest.raises(FileError, match=r"missing: no such file or directory"):
        atomic_write(tmp_path / "missing" / "a", b"")


def test_a_file_as_folder(tmp_path):
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(FileError, match="not a directory"):
        atomic_write(tmp_path / "file" / "a", b"")


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_may_not_be_written(tmp_path):
    tmp_path.chmod(0o500)
    with pytest.raises(FileError, match="permission denied"):
        atomic_write(tmp_path / "a", b"")


def test_a_directory_in_the_way_stops_all(tmp_path):
    (tmp_path / "b").mkdir()
    with pytest.raises(FileError, match="b: it is a directory"):
        atomic_write(tmp_path / "b", b"")

    def write_both():
        with staged(tmp_path) as stage:
            (stage / "a").write_bytes(b"1")
            (stage / "b").write_bytes(b"2")

    with pytest.raises(FileError, match="it is a directory"):
        write_both()
    assert names(tmp_path) == ["b"]


def test_a_full_disk(tmp_path, monkeypatch):
    def full(_handle):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(FileError, match="no space left on device") as caught:
        atomic_write(tmp_path / "a", b"1")
    assert "\n" not in str(caught.value)
    assert str(tmp_path) in str(caught.value)
    assert names(tmp_path) == []


KILLED = """
import os, signal, sys
from springgeo.publish.atomic import staged
place, when = sys.argv[1], int(sys.argv[2])
replace, calls = os.replace, []
def counted(*args):
    if len(calls) == when:
        os.kill(os.getpid(), signal.SIGKILL)
    calls.append(args)
    replace(*args)
os.replace = counted
with staged(place) as stage:
    (stage / "a").write_bytes(b"x" * 100_000)
    (stage / "b").write_bytes(b"y" * 100_000)
    if when < 0:
        os.kill(os.getpid(), signal.SIGKILL)
"""


@pytest.mark.skipif(os.name != "posix", reason="needs SIGKILL")
@pytest.mark.parametrize(("when", "published"), [(-1, []), (0, []), (1, ["a"])])
def test_a_killed_process_leaves_complete_files_or_none(tmp_path, when, published):
    command = [sys.executable, "-c", KILLED, str(tmp_path), str(when)]
    assert subprocess.run(command, check=False).returncode == -signal.SIGKILL
    seen = [n for n in names(tmp_path) if not n.startswith(".")]
    assert seen == published
    assert all((tmp_path / n).stat().st_size == 100_000 for n in seen)


ABANDONED = """
import os, pathlib, signal, sys
from springgeo.publish.atomic import staged
with staged(sys.argv[1], last="z") as stage:
    for name in "abz":
        (stage / name).write_text("new")
    print("ready", flush=True)
    {then}
"""
DIE = "os.kill(os.getpid(), signal.SIGKILL)"


def abandoned(folder, then=DIE):
    """Start a process that publishes three files into a folder, and does ``then`` before it can."""
    command = [sys.executable, "-c", ABANDONED.format(then=then), str(folder)]
    process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE)
    assert process.stdout.readline() == b"ready\n"
    return process


@pytest.mark.skipif(os.name != "posix", reason="needs SIGKILL")
def test_what_a_killed_run_left_is_removed_by_the_next(tmp_path):
    assert abandoned(tmp_path).wait() == -signal.SIGKILL
    assert [n[:11] for n in names(tmp_path)] == [".springgeo-"]
    atomic_write(tmp_path / "other", b"1")
    assert names(tmp_path) == ["other"]


@pytest.mark.skipif(os.name != "posix", reason="needs locks")
def test_a_living_run_keeps_its_folder(tmp_path):
    process = abandoned(tmp_path, "sys.stdin.readline()")
    atomic_write(tmp_path / "other", b"1")
    assert len(names(tmp_path)) == 2
    process.communicate(b"\n")
    assert process.returncode == 0
    assert names(tmp_path) == ["a", "b", "other", "z"]


@pytest.mark.skipif(os.name != "posix", reason="needs locks")
def test_a_thread_of_the_same_process_keeps_its_folder(tmp_path):
    with staged(tmp_path) as stage:
        (stage / "a").write_bytes(b"1")
        atomic_write(tmp_path / "b", b"1")
        assert (stage / "a").exists()
    assert names(tmp_path) == ["a", "b"]


@pytest.mark.skipif(os.name != "posix", reason="needs SIGKILL")
@pytest.mark.parametrize("moved", range(3))
def test_a_run_killed_between_renames_is_finished_by_the_next(tmp_path, moved):
    for name in "abz":
        (tmp_path / name).write_text("old")
    then = (
        "replace, calls = os.replace, []\n"
        "    def counted(*args):\n"
        f"        if len(calls) == {moved}: {DIE}\n"
        "        calls.append(args)\n"
        "        replace(*args)\n"
        "    os.replace = counted"
    )
    assert abandoned(tmp_path, then).wait() == -signal.SIGKILL
    assert not (tmp_path / "z").exists()
    atomic_write(tmp_path / "other", b"1")
    assert names(tmp_path) == ["a", "b", "other", "z"]
    assert {(tmp_path / n).read_text() for n in "abz"} == {"new"}


@pytest.mark.skipif(os.name != "posix", reason="needs locks")
def test_nothing_that_is_not_ours_is_touched(tmp_path):
    left = tmp_path / ".springgeo-mine"
    left.mkdir()
    (left / "notes").write_text("keep")
    (tmp_path / ".springgeo-file").write_text("keep")
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "elsewhere" / "x").write_text("keep")
    (tmp_path / ".springgeo-link").symlink_to(tmp_path / "elsewhere")
    foreign = tmp_path / ".springgeo-host"
    foreign.mkdir()
    (foreign / "owner").write_text('{"schema_version": "springgeo-staging/1", "host": "another"}')
    pipe = tmp_path / ".springgeo-pipe"
    pipe.mkdir()
    os.mkfifo(pipe / "owner")
    before = names(tmp_path)
    atomic_write(tmp_path / "a", b"1")
    assert names(tmp_path) == sorted([*before, "a"])
    assert (left / "notes").read_text() == "keep"
    assert (tmp_path / "elsewhere" / "x").read_text() == "keep"
    assert sorted(p.name for p in foreign.iterdir()) == ["owner"]


@pytest.mark.skipif(os.name != "posix", reason="needs SIGKILL")
def test_a_plan_names_nothing_outside_its_folder(tmp_path):
    inner = tmp_path / "inner"
    inner.mkdir()
    assert abandoned(inner).wait() == -signal.SIGKILL
    aside = next(inner.iterdir())
    (aside / "plan").write_text('{"names": ["../a", "b", "/tmp/x"], "last": "z"}')
    atomic_write(inner / "other", b"1")
    assert names(tmp_path) == ["inner"]
    assert names(inner) == ["b", "other"]

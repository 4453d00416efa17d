"""Files are published whole or not at all."""

import errno
import os
import signal
import subprocess
import sys

import pytest

from springgeo.errors import FileError
from springgeo.files.publish.atomic import atomic_write, staged


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
from springgeo.files.publish.atomic import staged
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

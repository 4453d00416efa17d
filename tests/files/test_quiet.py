"""What the kernel prints while it reads or writes a file does not reach standard output."""

from __future__ import annotations

import os
import subprocess
import sys
import threading

import pytest

from springgeo.process import closed_stdout

READ = """
import sys
from springgeo.errors import FileError
from springgeo.files.step.read import read_step
print("before")
try:
    read_step(sys.argv[1])
except FileError as exc:
    print("refused")
print("after")
"""


def test_a_file_cut_short_is_read_in_silence(built, tmp_path):
    data = (built / "test-spring.step").read_bytes()
    (tmp_path / "cut.step").write_bytes(data[: len(data) // 2])
    command = [sys.executable, "-c", READ, str(tmp_path / "cut.step")]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stdout == "before\nrefused\nafter\n"


PRINTS = """
import ctypes, os
from springgeo.process import closed_stdout
c = ctypes.CDLL(None)
c.printf(b"one\\n")
c.fflush(None)
with closed_stdout(), closed_stdout():
    c.printf(b"hidden\\n")
    os.write(1, b"hidden\\n")
c.printf(b"two\\n")
c.fflush(None)
print("three")
"""


@pytest.mark.skipif(os.name != "posix", reason="needs the C library by name")
def test_only_what_is_printed_meanwhile_is_lost():
    done = subprocess.run([sys.executable, "-c", PRINTS], capture_output=True, check=True)
    assert done.stdout == b"one\ntwo\nthree\n"


@pytest.mark.skipif(os.name != "posix", reason="needs a shell")
def test_no_standard_output_at_all():
    script = "from springgeo.process import closed_stdout\nwith closed_stdout(): pass"
    done = subprocess.run(f"'{sys.executable}' -c '{script}' >&-", shell=True, check=False)
    assert done.returncode == 0


def test_threads_take_turns(capfd):
    def use():
        for _ in range(20):
            with closed_stdout():
                os.write(1, b"hidden")

    threads = [threading.Thread(target=use) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    os.write(1, b"seen")
    assert capfd.readouterr().out == "seen"

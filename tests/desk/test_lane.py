"""The desk's processes: tidied, and ended whatever they are at."""

from __future__ import annotations

import asyncio
import ctypes
import gc
import subprocess
import sys
import weakref
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from springgeo.desk import lane


class Knot:
    """Something that holds itself, as springs and their curves do."""

    def __init__(self):
        self.own = self


def test_springs_of_earlier_answers_are_given_back():
    """Of what holds itself nothing is left once an answer is out, however few there are."""
    frozen = gc.get_freeze_count()
    try:
        gc.disable()
        knot = weakref.ref(Knot())
        assert knot() is not None
        lane.tidied()
        assert knot() is None
        assert gc.get_freeze_count() > 0
    finally:
        gc.enable()
        if not frozen:
            gc.unfreeze()


@pytest.mark.skipif(not Path("/proc/self/statm").exists(), reason="reads /proc")
def test_memory_between_what_is_kept_is_given_back():
    """In a process that has not tidied yet: 60 MB in pieces too small to be given back alone."""
    code = (
        "import numpy as np\n"
        "from pathlib import Path\n"
        "from springgeo.desk.lane import tidied\n"
        "def mb(): return int(Path('/proc/self/statm').read_text().split()[1]) * 4096 / 1e6\n"
        "pieces = [(np.ones(12_000), bytes(4000)) for _ in range(600)]\n"
        "kept = [small for _, small in pieces]\n"
        "del pieces\n"
        "full = mb()\n"
        "tidied()\n"
        "print(full - mb())"
    )
    command = [sys.executable, "-c", code]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    if not hasattr(ctypes.CDLL(None), "malloc_trim"):
        pytest.skip("the C library has no call for it")
    assert float(done.stdout) > 40


class Told(ThreadPoolExecutor):
    """One thread for a process; it tells what it is given to do."""

    def __init__(self, made):
        super().__init__(1)
        self.made = made

    def submit(self, call, /, *arguments, **more):
        self.made.append(call)
        return super().submit(int if call is lane.tidied else call, *arguments, **more)


def test_a_lane_of_its_own_is_tidied_once_nothing_waits():
    made = []

    async def asked():
        found = lane.Lane(lambda: Told(made), apart=True)
        answers = await asyncio.gather(*(found.ask(page, int) for page in ("p", "q")))
        await asyncio.sleep(0)
        found.close()
        return answers

    assert asyncio.run(asked()) == [0, 0]
    assert made == [int, int, lane.tidied]


def test_a_lane_that_is_never_idle_is_tidied_too():
    made = []

    async def asked():
        found = lane.Lane(lambda: Told(made), apart=True)
        await asyncio.gather(*(found.ask(f"page {k}", int) for k in range(20)))
        await asyncio.sleep(0)
        found.close()

    asyncio.run(asked())
    assert [k for k, call in enumerate(made) if call is lane.tidied] == [3, 7, 11, 15, 19, 23, 26]


def test_the_desk_ends_while_a_long_question_is_under_way(tmp_path):
    """Its process is ended too: without that Python would wait ten minutes for it."""
    script = tmp_path / "ends.py"
    script.write_text(
        "import asyncio, time\n"
        "from springgeo.desk.lane import Lane, process\n"
        "async def asked():\n"
        "    lane = Lane(process(0), apart=True)\n"
        "    assert await lane.ask('p', int) == 0\n"
        "    lost = asyncio.create_task(lane.ask('p', time.sleep, 600))\n"
        "    await asyncio.sleep(0.2)\n"
        "    lane.close()\n"
        "    lost.cancel()\n"
        "if __name__ == '__main__':\n"
        "    asyncio.run(asked())\n"
    )
    command = [sys.executable, str(script)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=300, check=False)
    assert (done.returncode, done.stderr) == (0, "")

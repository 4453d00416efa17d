"""Where slow questions are answered: a process of their own, the newest of every page first.

A lane has one question on the way and, of each page, one waiting: a newer one takes the place of
an older, which is answered as stale. So no answer is late by more than one question.
"""

from __future__ import annotations

import asyncio
import ctypes
import gc
import multiprocessing
import os
import time
from collections import OrderedDict
from collections.abc import Callable, Mapping
from concurrent.futures import Executor, ProcessPoolExecutor, ThreadPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import suppress

Answer = Mapping[str, object]
_Asked = tuple["asyncio.Future[Answer]", Callable[..., Answer], tuple[object, ...]]
Ask = Callable[[], Answer]

STALE: Answer = {"stale": True}
# s between one trim and the next: what is given back is asked for again
_TRIM_AFTER = 5.0
# answers after which a process is tidied though questions wait, as on a busy machine they always do
_UNTIDIED = 3
_trimmed = 0.0


class Lane:
    """Answers questions one by one.

    Parameters
    ----------
    make : callable
        Makes the executor, and makes it again if its process dies.
    apart : bool
        Whether it has a process of its own, which is tidied whenever nothing waits, and now and
        then.
    """

    def __init__(self, make: Callable[[], Executor], *, apart: bool = False) -> None:
        self._make = make
        self._apart = apart
        self._executor: Executor | None = None
        self._busy = False
        self._since = 0  # answers since it was tidied
        self._waiting: OrderedDict[str, _Asked] = OrderedDict()

    async def ask(self, page: str, call: Callable[..., Answer], *arguments: object) -> Answer:
        """Return the answer of a call, or `STALE` where the page asked anew before it began."""
        mine: asyncio.Future[Answer] = asyncio.get_running_loop().create_future()
        old = self._waiting.pop(page, None)
        if old is not None and not old[0].done():
            old[0].set_result(STALE)
        self._waiting[page] = mine, call, arguments
        if not self._busy:
            self._busy = True
            self._task = asyncio.create_task(self._run())
        return await mine

    async def _run(self) -> None:
        try:
            while self._waiting:
                _, (mine, call, arguments) = self._waiting.popitem(last=False)
                try:
                    answer = await self._answered(call, arguments)
                except Exception as exc:
                    if not mine.done():
                        mine.set_exception(exc)
                    continue
                if not mine.done():
                    mine.set_result(answer)
                self._since += 1
                often = not self._waiting or self._since >= _UNTIDIED
                if self._apart and self._executor is not None and often:
                    # who asked has the answer: this delays nobody, or seldom
                    self._since = 0
                    with suppress(RuntimeError):
                        self._executor.submit(tidied)
        finally:
            self._busy = False

    async def _answered(self, call: Callable[..., Answer], arguments: tuple[object, ...]) -> Answer:
        for again in (True, False):
            if self._executor is None:
                self._executor = self._make()
            try:
                loop = asyncio.get_running_loop()
                return await loop.run_in_executor(self._executor, call, *arguments)
            except BrokenProcessPool:
                self._executor = None
                if not again:
                    raise
        raise AssertionError

    def close(self) -> None:
        """End the lane's process, whatever it is at: nobody waits for the answer."""
        if self._executor is not None:
            # Python waits at its end for every process of a pool, and has no call to end them
            processes = list((getattr(self._executor, "_processes", None) or {}).values())
            self._executor.shutdown(wait=False, cancel_futures=True)
            self._executor = None
            for each in processes:
                each.terminate()


def process(nice: int) -> Callable[[], Executor]:
    """Return a maker of one process, so much nicer than this one."""

    def make() -> Executor:
        context = multiprocessing.get_context("spawn")
        begin = nice, os.getpid()
        return ProcessPoolExecutor(1, context, initializer=_begin, initargs=begin)

    return make


def thread() -> Executor:
    """Return one thread."""
    return ThreadPoolExecutor(1)


def tidied() -> None:
    """Give back the springs of earlier answers, which hold each other and many MB.

    Left alone, Python looks for them only when there are many; what was there when this was first
    called is not looked at again. What is free then lies between what is not, and the C library
    keeps it: now and then it is told to give it back.
    """
    global _trimmed
    gc.collect()
    if not gc.get_freeze_count():
        gc.freeze()
    if time.monotonic() >= _trimmed + _TRIM_AFTER:
        _trimmed = time.monotonic()
        trim()


def trim() -> None:
    """Give free memory back to the system, where the C library has a call for it (glibc)."""
    with suppress(OSError, AttributeError, TypeError):
        ctypes.CDLL(None).malloc_trim(0)


def _begin(nice: int, parent: int) -> None:
    import signal
    import threading

    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    # the terminal's interrupt ends the desk, which ends its processes
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if hasattr(os, "nice"):
        os.nice(nice)
    threading.Thread(target=_end_with, args=(parent,), daemon=True).start()


def _end_with(parent: int) -> None:
    """End this process when its parent is no more, however that ended."""
    while os.getppid() == parent:
        time.sleep(0.5)
    os._exit(0)

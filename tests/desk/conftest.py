"""One browser for the desk's pages, and the desk served beside it."""

from __future__ import annotations

import subprocess
import sys
from contextlib import contextmanager

import pytest

from springgeo.process import child_environment
from tests.report.browser import Browser, find_browser


@pytest.fixture(name="browser", scope="module")
def _browser():
    pytest.importorskip("websocket", reason="websocket-client is missing: the dev extra has it")
    if find_browser() is None:
        pytest.skip("no chromium or chrome on this machine (Debian: apt-get install chromium)")
    running = Browser()
    yield running
    running.close()


@pytest.fixture(name="page")
def _page(browser):
    page = browser.page()
    page.size(1400, 900)
    yield page
    page.close()


@contextmanager
def served(path):
    """Serve a file at the desk, in a process of its own; give the address."""
    command = [sys.executable, "-m", "springgeo", "open", str(path), "--no-browser"]
    desk = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=child_environment())
    try:
        yield desk.stdout.readline().split()[-1]
    finally:
        desk.terminate()
        assert desk.wait(60) in (0, -15)

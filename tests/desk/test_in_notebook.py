"""The widget in a notebook as people run them: a server, a kernel, a browser, and a slider."""

from __future__ import annotations

import importlib.util
import json
import re
import subprocess
import sys
import time

import pytest

from springgeo.process import child_environment
from tests.desk.test_desk import TEXT

pytestmark = pytest.mark.slow
for _library in ("ruamel.yaml", "anywidget"):
    pytest.importorskip(_library, reason="the extras live and notebook have it")

CELL = "import springgeo as sg\nlive = sg.Spring.from_file('spring.yaml').live('spring.yaml')\nlive"
INSIDE = "document.querySelector('iframe[title=springgeo]')?.contentDocument"
DESK = f"{INSIDE}?.getElementById('canvas')?.desk"


@pytest.fixture(name="notebook")
def _notebook(tmp_path):
    """Serve a notebook of one cell; give address, token and folder."""
    for library in ("jupyterlab", "ipykernel"):
        if importlib.util.find_spec(library) is None:
            pytest.skip(f"{library} is missing: pip install {library}")
    (tmp_path / "spring.yaml").write_text(TEXT)
    cell = {"cell_type": "code", "id": "a", "metadata": {}, "outputs": [], "execution_count": None}
    kernel = {"name": "python3", "display_name": "Python", "language": "python"}
    book = {"cells": [cell | {"source": CELL}], "metadata": {"kernelspec": kernel}}
    (tmp_path / "book.ipynb").write_text(json.dumps(book | {"nbformat": 4, "nbformat_minor": 5}))
    given = (
        *("--no-browser", "--port=0", "--ServerApp.port_retries=0", f"--notebook-dir={tmp_path}"),
        *("--allow-root", "--expose-app-in-browser"),
    )
    log = tmp_path / "server.log"
    with log.open("w") as told:
        server = subprocess.Popen(
            [sys.executable, "-m", "jupyterlab", *given], stderr=told, env=child_environment()
        )
    try:
        yield *_address(log), tmp_path
    finally:
        server.terminate()
        server.wait(60)


def _address(log):
    """Return address and token of a server, once it has told them."""
    for _ in range(1200):
        found = re.search(r"(http://127\S+)/lab\?(token=\w+)", log.read_text())
        if found:
            return found[1], found[2]
        time.sleep(0.05)
    raise AssertionError(log.read_text())


def test_a_cell_shows_the_spring_and_its_slider_moves_it(page, notebook):
    address, token, folder = notebook
    page.size(1500, 1300)
    page.call("Page.navigate", url=f"{address}/lab/tree/book.ipynb?{token}")
    page.until("!!window.jupyterapp && !!document.querySelector('.jp-CodeCell')")
    page.until("!!document.querySelector('.jp-Notebook-ExecutionIndicator[data-status=idle]')")
    page.run(
        "window.jupyterapp.restored.then(async () => { const book = "
        "window.jupyterapp.shell.currentWidget; await book.context.ready; "
        "await book.sessionContext.ready; book.activate(); return 0; })"
    )
    page.settle()
    page.run("void window.jupyterapp.commands.execute('notebook:run-all-cells')")
    page.until(f"!!({DESK}?.curves?.now && {DESK}?.stage?.answer)", rounds=6000)
    before = page.run(f"{DESK}.stage.answer.length")
    slider = f"{INSIDE}.querySelector('#f-body-coils').parentNode.querySelector('[type=range]')"
    page.run(
        f"(() => {{ const e = {slider}; e.value = 9; e.dispatchEvent(new Event('input')); "
        "e.dispatchEvent(new Event('change')); })()"
    )
    page.until(f"{DESK}.number === 1 && {DESK}.stage.answer.length > {before} + 2", rounds=6000)
    assert (folder / "spring.yaml").read_text() == TEXT.replace("coils: 6", "coils: 9")
    assert page.run(f"{INSIDE}.documentElement.dataset.drawn") == "yes"
    page.settle()
    (folder / "notebook.png").write_bytes(page.png())

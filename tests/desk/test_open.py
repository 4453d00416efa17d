"""The command ``open``: what is missing is said in one line; it is on loopback and ends."""

from __future__ import annotations

import signal
import socket
import subprocess
import sys

import pytest

from springgeo.cli.main import run
from springgeo.desk.desk import FILES, Desk
from springgeo.process import child_environment
from tests.desk.test_desk import TEXT, ask


@pytest.mark.parametrize("library", ["uvicorn", "starlette.applications", "ruamel.yaml"])
def test_a_missing_library_is_named_with_how_to_get_it(tmp_path, monkeypatch, capsys, library):
    (tmp_path / "spring.yaml").write_text(TEXT)
    monkeypatch.setitem(sys.modules, library, None)
    assert run(["open", str(tmp_path / "spring.yaml"), "--no-browser"]) == 2
    told = capsys.readouterr().err
    assert "pip install 'springgeo[live]'" in told
    assert len(told.splitlines()) == 1


def test_a_file_that_is_not_there_is_refused(tmp_path, capsys):
    assert run(["open", str(tmp_path / "spring.yaml"), "--no-browser"]) == 2
    assert "No such file" in capsys.readouterr().err


@pytest.mark.slow
@pytest.mark.parametrize("end", [signal.SIGINT, signal.SIGTERM])
def test_it_is_on_loopback_alone_and_ends_with_its_terminal(tmp_path, end):
    pytest.importorskip("uvicorn", reason="the extra live has it")
    (tmp_path / "spring.yaml").write_text(TEXT)
    command = [sys.executable, "-m", "springgeo", "open", str(tmp_path / "spring.yaml")]
    desk = subprocess.Popen(
        [*command, "--no-browser"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env=child_environment(),
    )
    address = desk.stdout.readline().split()[-1]
    host, port = address.split("/")[2].split(":")
    assert host == "127.0.0.1"
    with socket.create_connection((host, int(port)), 10):
        pass
    # the machine's other addresses do not answer
    other = socket.gethostbyname(socket.gethostname())
    if not other.startswith("127."):
        with pytest.raises(OSError):
            socket.create_connection((other, int(port)), 2)
    desk.send_signal(end)
    assert desk.wait(60) == 0
    told = desk.stderr.read()
    assert "Traceback" not in told


@pytest.mark.slow
@pytest.mark.parametrize("kind", FILES)
def test_every_file_is_made(tmp_path, kind):
    import base64

    path = tmp_path / "spring.yaml"
    path.write_text(TEXT)
    desk = Desk(path, apart=False)
    try:
        made = ask(desk, "file", kind=kind)
        assert made["name"].endswith(f".{kind}")
        assert len(base64.b64decode(made["base64"])) > 5000
        assert [p.name for p in tmp_path.iterdir()] == ["spring.yaml"]
    finally:
        desk.close()

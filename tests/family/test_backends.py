from __future__ import annotations

import json
import os
import signal
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from springgeo.cli.main import run
from springgeo.family import build_family, read_family
from springgeo.family.build import build_member
from springgeo.family.run import _arrived

EXPECTED = ["built", "failed", "built", "failed", "built"]


@pytest.fixture
def dask_cluster(plug_in: Path) -> Iterator[str]:
    """Yield the address of a scheduler with two workers in processes of their own."""
    distributed = pytest.importorskip("distributed", reason="dask is not installed")
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, dashboard_address=None, silence_logs=50
    ) as cluster:
        yield cluster.scheduler_address


@pytest.mark.slow
def test_dask(
    dask_cluster: str, deadly: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "out"
    command = [
        "family",
        str(deadly),
        "-o",
        str(out),
        "--summary-only",
        "--backend",
        "dask",
        "--cluster",
        dask_cluster,
    ]
    assert run(command) == 1
    found = json.loads((out / "manifest.json").read_text())
    assert [m["status"] for m in found["members"]] == EXPECTED
    said = capsys.readouterr().err.splitlines()
    assert any("left with code 7" in line for line in said)
    # the same as on this machine, byte for byte, and taken up as such
    here = build_family(read_family(deadly, whole=False), tmp_path / "here", 1)
    assert [r.files for r in here.records] == [m["files"] for m in found["members"]]
    assert run(command) == 1
    assert "3 of 5 built, 3 of them before" in capsys.readouterr().out


@pytest.mark.slow
def test_dask_loses_a_worker(deadly: Path, tmp_path: Path) -> None:
    distributed = pytest.importorskip("distributed", reason="dask is not installed")
    members = read_family(deadly, whole=False)
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, dashboard_address=None, silence_logs=50
    ) as cluster:
        workers = [w.pid for w in cluster.workers.values()]
        killed: list[int] = []

        def kill_one(_record: object) -> None:
            if not killed:
                killed.append(workers[0])
                os.kill(workers[0], signal.SIGKILL)

        outcome = build_family(
            members,
            tmp_path / "out",
            say=kill_one,
            backend="dask",
            cluster=cluster.scheduler_address,
        )
    assert killed
    assert [r.status for r in outcome.records] == EXPECTED


@pytest.mark.slow
def test_ray(deadly: Path, tmp_path: Path) -> None:
    ray = pytest.importorskip("ray", reason="ray is not installed")
    ray.init(num_cpus=2, include_dashboard=False, log_to_driver=False, logging_level="ERROR")
    try:
        members = read_family(deadly, whole=False)
        outcome = build_family(members, tmp_path / "out", backend="ray")
        assert [r.status for r in outcome.records] == EXPECTED
        assert ray.is_initialized()  # somebody else's session goes on
    finally:
        ray.shutdown()


def test_what_a_worker_wrote_elsewhere_is_not_built(deadly: Path, tmp_path: Path) -> None:
    member = read_family(deadly, whole=False)[0]
    record = build_member(member, tmp_path / "there")
    assert _arrived(record, member, tmp_path / "there") == record
    (lost,) = _arrived(record, member, tmp_path / "here").errors
    assert "folder that all of them share" in lost
    other = record.model_copy(update={"digest": "of another version"})
    (old,) = _arrived(other, member, tmp_path / "here").errors
    assert "another version of springgeo" in old


@pytest.mark.parametrize(
    ("args", "words"),
    [
        (["--backend", "dask"], "--cluster tcp://HOST:8786"),
        (["--backend", "dask", "--cluster", "nonsense"], "nonsense"),
        (["--backend", "ray", "--cluster", "nonsense"], "HOST:6379"),
        (["--backend", "ray", "--cluster", "127.0.0.1:9"], "no Ray cluster answers"),
        (["--cluster", "tcp://127.0.0.1:9"], "--backend dask or ray"),
        (["--backend", "slurm"], "slurm"),
    ],
)
def test_clusters_that_cannot_be_used(
    args: list[str], words: str, deadly: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("dask", "ray"):
        if name in args:
            pytest.importorskip(
                "distributed" if name == "dask" else "ray", reason=f"{name} is not installed"
            )
    assert run(["family", str(deadly), "-o", str(tmp_path / "out"), *args]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert words in line


@pytest.mark.parametrize(("backend", "module"), [("dask", "distributed"), ("ray", "ray")])
def test_without_the_library_the_command_that_brings_it_is_told(
    backend: str,
    module: str,
    deadly: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.setitem(sys.modules, module, None)
    command = ["family", str(deadly), "-o", str(tmp_path / "out"), "--backend", backend]
    assert run([*command, "--cluster", "tcp://127.0.0.1:9"]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert f"pip install 'springgeo[{backend}]'" in line

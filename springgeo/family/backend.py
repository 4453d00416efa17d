"""Where a family is built: on this machine, or on a Dask or Ray cluster that runs already.

Each place is a context in which joblib runs; what it runs is the same everywhere. A context
gives how joblib can hand out results there: one by one, or a list at a time.
"""

from __future__ import annotations

import os
import re
import socket
from collections.abc import Callable, Iterator, Mapping
from contextlib import AbstractContextManager, contextmanager
from types import MappingProxyType

from springgeo.errors import SpringgeoError
from springgeo.optional import need

# seconds to wait for a cluster to answer
WAIT = 10


class ClusterError(SpringgeoError, RuntimeError):
    """A cluster cannot be reached, or cannot run a family."""


ONE_BY_ONE, LISTS = "generator_unordered", "list"
Place = Callable[[str | None], AbstractContextManager[str]]


def cores() -> int:
    """Return how many cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


@contextmanager
def _local(cluster: str | None) -> Iterator[str]:
    """Threads of this process: each only waits for the child process that builds."""
    import joblib

    if cluster is not None:
        raise ClusterError("--cluster is for --backend dask or ray; name one of them")
    with joblib.parallel_config(backend="threading"):
        yield ONE_BY_ONE


@contextmanager
def _dask(cluster: str | None) -> Iterator[str]:
    distributed = need("distributed", "--backend dask", "dask")
    import joblib

    if cluster is None:
        raise ClusterError("--backend dask needs the scheduler: --cluster tcp://HOST:8786")
    try:
        client = distributed.Client(cluster, timeout=WAIT)
    except (OSError, ValueError, TypeError) as exc:
        raise ClusterError(f"no Dask scheduler answers at '{cluster}': {_first(exc)}") from None
    with client, joblib.parallel_config(backend="dask", wait_for_workers_timeout=WAIT):
        yield ONE_BY_ONE


@contextmanager
def _ray(cluster: str | None) -> Iterator[str]:
    ray = need("ray", "--backend ray", "ray")
    import joblib

    ours = not ray.is_initialized()
    if ours:
        _require_answer(cluster)
        try:
            ray.init(address=cluster or "auto", log_to_driver=False, logging_level="ERROR")
        except (OSError, ValueError, RuntimeError, AssertionError) as exc:
            at = f"at '{cluster}'" if cluster else "on this machine; name one with --cluster"
            raise ClusterError(f"no Ray cluster answers {at}: {_first(exc)}") from None
    need("ray.util.joblib", "--backend ray", "ray").register_ray()
    try:
        with joblib.parallel_config(backend="ray"):
            yield LISTS
    finally:
        if ours:
            ray.shutdown()


def _require_answer(cluster: str | None) -> None:
    """Raise ClusterError where nothing listens: Ray itself would ask for ever."""
    found = re.fullmatch(r"(?:ray://)?\[?([^/]+?)\]?:(\d{1,5})", cluster or "")
    if cluster is not None and cluster != "auto" and found is None:
        raise ClusterError(f"'{cluster}' needs the form HOST:6379 or ray://HOST:10001")
    if found is not None:
        try:
            socket.create_connection((found[1], int(found[2])), WAIT).close()
        except (OSError, OverflowError) as exc:
            raise ClusterError(f"no Ray cluster answers at '{cluster}': {_first(exc)}") from None


def _first(exc: BaseException) -> str:
    lines = str(exc).strip().splitlines() or [type(exc).__name__]
    return lines[0][:200]


PLACES: Mapping[str, Place] = MappingProxyType({"local": _local, "dask": _dask, "ray": _ray})

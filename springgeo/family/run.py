"""Runs a family: skips what is complete, builds the rest in parallel, keeps one manifest."""

from __future__ import annotations

import json
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from springgeo.errors import FileError, SpringgeoError
from springgeo.family.backend import ONE_BY_ONE, PLACES, ClusterError, cores
from springgeo.family.build import failed
from springgeo.family.builder import Crew, build_apart
from springgeo.family.member import RECORD, Member, Record, complete
from springgeo.publish.atomic import atomic_write

SCHEMA = "springgeo-family/1"
MANIFEST = "manifest.json"
# the manifest is written anew while members are built: seconds between two writings, and the
# greatest share of the time that writing may take
EVERY = 2.0
SHARE = 0.05
# how often in a row a cluster may break off before what is left is given up
BREAKS = 3

Say = Callable[[Record], None]


@dataclass(frozen=True)
class Outcome:
    """All records in the order of the table; ``skipped`` were complete before."""

    records: tuple[Record, ...]
    skipped: int

    @property
    def failures(self) -> tuple[Record, ...]:
        """Members that could not be built."""
        return tuple(r for r in self.records if r.status != "built")


def build_family(
    members: Sequence[Member],
    folder: Path,
    jobs: int | None = None,
    say: Say = lambda _record: None,
    *,
    backend: str = "local",
    cluster: str | None = None,
) -> Outcome:
    """Build every member that is not complete, and write the manifest.

    A run that was killed is taken up where it stopped. A member that cannot be built, or takes
    its process down, is listed and stops nobody else.

    Parameters
    ----------
    members : sequence of Member
    folder : Path
        On a cluster it must be one that every worker sees under the same path.
    jobs : int, optional
        Members at a time; every core of the machine, or every worker of the cluster, if left out.
    say : callable
        Told each record as it comes.
    backend : {"local", "dask", "ray"}
    cluster : str, optional
        Address of a cluster that runs already.

    Raises
    ------
    FileError
        The folder cannot be written.
    ClusterError
        The cluster does not answer, or cannot run anything.
    MissingLibraryError
        The backend's library is not installed.
    """
    folder = folder.absolute()
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as exc:
        raise FileError(f"cannot make folder {folder}: {exc.strerror}") from None
    records = {m.row: r for m in members if (r := complete(m, folder)) is not None}
    skipped, last, took = len(records), time.monotonic(), _write(folder, members, records)
    todo = [m for m in members if m.row not in records]
    for record in _run(todo, folder, jobs, backend, cluster) if todo else ():
        records[record.row] = record
        say(record)
        if time.monotonic() - last > max(EVERY, took / SHARE):
            took, last = _write(folder, members, records), time.monotonic()
    _write(folder, members, records)
    return Outcome(tuple(records[m.row] for m in members), skipped)


def _run(
    members: Sequence[Member], folder: Path, jobs: int | None, backend: str, cluster: str | None
) -> Iterator[Record]:
    """Yield every member's record as it comes; a cluster that breaks off is asked again."""
    from joblib import Parallel, delayed, effective_n_jobs

    left = {m.row: m for m in members}
    number = jobs or (cores() if backend == "local" else -1)
    breaks, why, crew = 0, "", Crew()
    build = crew.build if backend == "local" else build_apart
    with PLACES[backend](cluster) as way:
        while left and breaks < BREAKS:
            try:
                with Parallel(n_jobs=number, return_as=way, batch_size=1) as work:
                    for some in _slices(list(left.values()), way, effective_n_jobs(number)):
                        for record in work(delayed(build)(m, folder) for m in some):
                            breaks, member = 0, left.pop(record.row)
                            yield record if backend == "local" else _arrived(record, member, folder)
            except SpringgeoError:
                raise
            # whatever a cluster's library raises when workers are lost
            except Exception as exc:
                breaks += 1
                why = " ".join(f"{type(exc).__name__}: {exc}".split())[:300]
            finally:
                crew.close()
    if len(left) == len(members):
        raise ClusterError(f"nothing could be built on the cluster: {why}")
    for m in left.values():
        yield failed(m, f"cluster-lost: the cluster broke off {BREAKS} times in a row; {why}")


def _slices(members: list[Member], way: str, workers: int) -> Iterator[list[Member]]:
    """Yield what joblib is given at once: all, or where it hands out lists, so much as to see."""
    size = len(members) if way == ONE_BY_ONE else max(4 * workers, 16)
    for start in range(0, len(members), size):
        yield members[start : start + size]


def _arrived(record: Record, member: Member, folder: Path) -> Record:
    """Return a record from a cluster, failed where its files are not here."""
    if record.status != "built" or complete(member, folder) is not None:
        return record
    if record.digest != member.digest:
        text = "version-differs: the worker has another version of springgeo; install the same one"
    else:
        text = (
            f"not-here: a worker wrote {folder / member.stem / RECORD} where this machine does "
            "not see it; name a folder that all of them share"
        )
    return failed(member, text)


def _write(folder: Path, members: Sequence[Member], records: dict[int, Record]) -> float:
    """Write the manifest, members not reached yet are waiting; return the seconds it took."""
    start = time.monotonic()
    rows = [
        records[m.row].model_dump(mode="json")
        if m.row in records
        else {"row": m.row, "stem": m.stem, "digest": m.digest, "status": "waiting"}
        for m in members
    ]
    count = {s: sum(r["status"] == s for r in rows) for s in ("built", "failed", "waiting")}
    whole = {"schema_version": SCHEMA, **count, "members": rows}
    atomic_write(folder / MANIFEST, (json.dumps(whole, indent=1) + "\n").encode())
    return time.monotonic() - start

"""Runs a family in parallel processes: skips what is complete, survives a crash of a process."""

from __future__ import annotations

import json
import multiprocessing
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from pathlib import Path

from springgeo.errors import FileError
from springgeo.export.atomic import atomic_write
from springgeo.family.build import build_member, failed
from springgeo.family.member import Member, Record, complete

SCHEMA = "springgeo-family/1"
MANIFEST = "manifest.json"
# seconds between two writings of the manifest while members are being built
EVERY = 2.0

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
    members: Sequence[Member], folder: Path, jobs: int = 1, say: Say = lambda _record: None
) -> Outcome:
    """Build every member that is not complete, ``jobs`` at a time, and write the manifest.

    A run that was killed is taken up where it stopped. A member that cannot be built, or takes
    its process down, is listed and stops nobody else.

    Raises
    ------
    FileError
        The folder cannot be written.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as exc:
        raise FileError(f"cannot make folder {folder}: {exc.strerror}") from None
    records = {m.row: r for m in members if (r := complete(m, folder)) is not None}
    skipped, last = len(records), time.monotonic()
    _write(folder, members, records)
    todo = [m for m in members if m.row not in records]
    for record in _run(todo, folder, jobs):
        records[record.row] = record
        say(record)
        if time.monotonic() - last > EVERY:
            _write(folder, members, records)
            last = time.monotonic()
    _write(folder, members, records)
    return Outcome(tuple(records[m.row] for m in members), skipped)


def _run(members: Sequence[Member], folder: Path, jobs: int) -> Iterator[Record]:
    left = {m.row: m for m in members}
    if jobs > 1 and len(members) > 1:
        for record in _together(members, folder, jobs):
            del left[record.row]
            yield record
    else:
        for m in members:
            del left[m.row]
            yield build_member(m, folder)
    # a process died: the rest one by one, so that only the culprit is lost
    for m in left.values():
        found = list(_together([m], folder, 1))
        yield found[0] if found else failed(m, "the process that built it died; see its memory use")


def _together(members: Sequence[Member], folder: Path, jobs: int) -> Iterator[Record]:
    """Yield records as they come; ends early if a process dies."""
    context = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(min(jobs, len(members)), mp_context=context) as pool:
        waiting: list[Future[Record]] = [pool.submit(build_member, m, folder) for m in members]
        try:
            for future in as_completed(waiting):
                try:
                    record = future.result()
                except BrokenProcessPool:
                    continue
                yield record
        finally:
            pool.shutdown(wait=False, cancel_futures=True)


def _write(folder: Path, members: Sequence[Member], records: dict[int, Record]) -> None:
    """Write the manifest; members not reached yet are waiting."""
    rows = [
        records[m.row].model_dump(mode="json") if m.row in records
        else {"row": m.row, "stem": m.stem, "digest": m.digest, "status": "waiting"}
        for m in members
    ]  # fmt: skip
    count = {s: sum(r["status"] == s for r in rows) for s in ("built", "failed", "waiting")}
    whole = {"schema_version": SCHEMA, **count, "members": rows}
    atomic_write(folder / MANIFEST, (json.dumps(whole, indent=1) + "\n").encode())

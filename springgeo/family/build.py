"""Builds one member; never raises for a bad one, whatever goes wrong in it."""

from __future__ import annotations

from pathlib import Path

from springgeo.errors import SpecError
from springgeo.family.member import RECORD, Member, Record, sha256
from springgeo.publish.atomic import atomic_write
from springgeo.summary import Summary


def build_member(member: Member, folder: Path) -> Record:
    """Build a member into ``folder/stem`` and return its record, written there last."""
    place = folder / member.stem
    errors: tuple[str, ...]
    try:
        place.mkdir(parents=True, exist_ok=True)
        (place / RECORD).unlink(missing_ok=True)
        record = _built(member, place)
    except SpecError as exc:
        errors = tuple(f.line(member.shown.text(f.message)) for f in exc.findings)
    # an end style or exporter from elsewhere may raise anything: this member fails, not the family
    except Exception as exc:
        errors = (" ".join(f"{type(exc).__name__}: {exc}".split()).rstrip(":")[:400],)
    else:
        atomic_write(place / RECORD, record.model_dump_json(indent=1).encode())
        return record
    return failed(member, *errors)


def failed(member: Member, *errors: str) -> Record:
    """Return the record of a member that could not be built."""
    return Record(
        row=member.row,
        stem=member.stem,
        name=str(member.data.get("name")),
        digest=member.digest,
        status="failed",
        errors=errors,
    )


def _built(member: Member, place: Path) -> Record:
    from springgeo.api import Spring
    from springgeo.files.publish.bundle import export_bundle

    spring = Spring.from_dict(member.data)
    if member.whole:
        bundle = export_bundle(spring.model, place)
        files, summary = bundle.files, bundle.summary
    else:
        summary = spring.summary()
        target = place / f"{member.stem}.json"
        atomic_write(target, (summary.json_text() + "\n").encode("ascii"))
        files = (target,)
    return Record(
        row=member.row,
        stem=member.stem,
        name=summary.name,
        digest=member.digest,
        status="built",
        files={p.name: sha256(p) for p in files},
        warnings=tuple(
            f.line(member.shown.text(f.message))
            for f in summary.findings
            if f.severity == "warning"
        ),
        facts=_facts(summary),
    )


def _facts(s: Summary) -> dict[str, float]:
    """Return what a reader of the manifest looks for first; mm, N, N/mm, kg."""
    return {
        "wire_diameter": s.geometry.wire_diameter,
        "outer_diameter": s.geometry.outer_diameter,
        "free_length": s.free_length.model,
        "rate": s.along_the_wire.rate,
        "initial_tension": s.initial_tension.force,
        "mass": s.geometry.mass,
    }

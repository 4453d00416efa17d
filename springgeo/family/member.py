"""One member of a family, and its record: what was asked, what was written, or why not."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from pathlib import Path

from pydantic import BaseModel, ConfigDict, ValidationError

from springgeo.text.json_value import Json
from springgeo.text.quantity import SYSTEMS, Units
from springgeo.text.shown import Shown
from springgeo.version import __version__

RECORD = "member.json"


@dataclass(frozen=True)
class Member:
    """A row of the table: its number, the folder's name, and the specification as written.

    ``units`` are those of what is said of it; those of the specification if left out.
    """

    row: int
    stem: str
    data: dict[str, Json]
    whole: bool = True
    units: Units | None = None

    @property
    def shown(self) -> Shown:
        """How its warnings and errors are said: they may be of a specification that is bad."""
        asked = self.units or self.data.get("units")
        return Shown(next((u for u in SYSTEMS if u == asked), "mm"))

    @property
    def digest(self) -> str:
        """SHA-256 of everything the outputs follow from."""
        content = [__version__, self.whole, self.data]
        return hashlib.sha256(json.dumps(content, sort_keys=True, default=str).encode()).hexdigest()


class Record(BaseModel):
    """What became of a member; ``files`` maps names in its folder to their SHA-256.

    Warnings and errors are texts in the units of its reader; ``facts`` are in mm, N, N/mm, kg.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    row: int
    stem: str
    name: str
    digest: str
    status: str
    files: dict[str, str] = {}
    warnings: tuple[str, ...] = ()
    errors: tuple[str, ...] = ()
    facts: dict[str, float] = {}


def complete(member: Member, folder: Path) -> Record | None:
    """Return the record of a member that was built before and is still whole, else None.

    Whole: asked for in the same words by the same version, every file there and unchanged.
    """
    place = folder / member.stem
    try:
        record = Record.model_validate_json((place / RECORD).read_bytes())
        if record.digest != member.digest or record.status != "built":
            return None
        if any(sha256(place / name) != known for name, known in record.files.items()):
            return None
    except (OSError, ValidationError):
        return None
    return record


def sha256(path: Path) -> str:
    """Return the SHA-256 of a file."""
    with path.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()

"""What all results share: their base, the cautions, a load with its length."""

from __future__ import annotations

import json
from typing import Self

from pydantic import BaseModel, ConfigDict, ModelWrapValidatorHandler, model_validator

from springgeo.text.shown import word
from springgeo.worked.number import kept, recording

CAUTIONS = (
    word(
        "Results guide design; they do not replace the standards, the spring maker, or a licensed "
        "engineer. Local codes rule."
    ),
    word(
        "Hooks break, and stored energy is released at once: provide a travel stop and secondary "
        "retention, and wear eye protection when hooking in."
    ),
    word("Never make an extension spring the only support of overhead or personnel loads."),
)


class Facts(BaseModel):
    """Base of all that a result is made of: frozen, nothing unknown.

    While somebody records (``springgeo.worked``), its numbers remember how they were found.
    """

    # built when first used: a command uses few of them
    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    @model_validator(mode="wrap")
    @classmethod
    def _remembered(cls, values: object, handler: ModelWrapValidatorHandler[Self]) -> Self:
        made = handler(values)
        if recording() and isinstance(values, dict):
            # pydantic has made plain floats of them; a frozen model is filled in from outside
            made.__dict__.update({k: kept(v) for k, v in values.items() if kept(v) is not None})
        return made


class Document(Facts):
    """What is handed out as a whole."""

    def json_text(self, indent: int | None = 2) -> str:
        """Return it as JSON, ASCII only, the same for the same spring."""
        return json.dumps(self.model_dump(mode="json"), indent=indent, allow_nan=False)


class Reached(Facts):
    """A load, N, and the length inside hooks there, mm."""

    load: float
    length: float

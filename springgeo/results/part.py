"""What all results share: their base, the cautions, a load with its length."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict

from springgeo.text.shown import word

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


class Part(BaseModel):
    """Base of the summary's parts: frozen, nothing unknown."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Reached(Part):
    """A load, N, and the length inside hooks there, mm."""

    load: float
    length: float

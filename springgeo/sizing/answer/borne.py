"""The job at a temperature that a candidate's wire bears: only there is it known what it does."""

from __future__ import annotations

from springgeo.sizing.job.job import Job
from springgeo.sizing.search.candidate import Candidate


def borne(job: Job, c: Candidate) -> Job:
    """Return the job at the temperature next to its own that the candidate's wire bears."""
    wire, T = job.choice.known_materials[c.material], job.service.temperature
    low, high = wire.temperature_minimum, wire.temperature_limit
    near = T if high is None else min(T, high)
    near = near if low is None else max(near, low)
    if near == T:
        return job
    return job.model_copy(update={"service": job.service.model_copy(update={"temperature": near})})

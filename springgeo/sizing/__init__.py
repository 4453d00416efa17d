"""From what a spring must do to springs that do it: an exhaustive search at handbook level.

>>> from springgeo.sizing import job_of, size
>>> job = job_of({"points": [{"length": 60, "load": 15}, {"length": 75, "load": 30}]})
>>> size(job).winners  # doctest: +SKIP
"""

from springgeo.sizing.job.job import Job, job_of, read_job
from springgeo.sizing.search.search import Found, search
from springgeo.sizing.size import Result, size

__all__ = ["Found", "Job", "Result", "job_of", "read_job", "search", "size"]

"""From what a spring must do to springs that do it: an exhaustive search at handbook level.

>>> from springgeo.sizing import job_of, search
>>> job = job_of({"points": [{"length": 60, "load": 15}, {"length": 75, "load": 30}]})
>>> search(job).front  # doctest: +SKIP
"""

from springgeo.sizing.job import Job, job_of, read_job

__all__ = ["Job", "job_of", "read_job"]

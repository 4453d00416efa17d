"""Springs that jobs are written from, the jobs, and choices read again as they are written."""

"""Commands that make a specification: from a job, a sample, a surface, a table."""

"""Specification plus ends to one centreline, free or deflected."""

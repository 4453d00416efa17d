"""Repeated load: the facts of a cycle, and what a place endures."""

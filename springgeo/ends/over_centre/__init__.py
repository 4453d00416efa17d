"""Hooks and loops over the centre of the body."""

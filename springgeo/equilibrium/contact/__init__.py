"""Coils that press on each other: where, how hard, until they part."""

"""Checks on what was generated; they are printed in every result."""

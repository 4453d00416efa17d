"""Mounted so that the pull is not straight: pins out of line or skew, ends held, own weight."""

"""Dimensions in a STEP file, tied to faces: said, written, read."""

"""The kinds of segment, one a file."""

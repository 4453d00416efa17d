"""Commands that list what there is, or start a file."""

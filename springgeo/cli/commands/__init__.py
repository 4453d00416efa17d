"""One command, one file; loaded when it runs."""

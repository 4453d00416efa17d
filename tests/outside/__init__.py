"""Files of this package in other people's programs; run ``python -m tests.outside``."""

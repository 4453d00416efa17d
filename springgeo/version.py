"""The version, said once."""

__version__ = "0.1.0"

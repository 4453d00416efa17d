"""A plug-in that breaks at import."""

raise RuntimeError("the workshop is closed")

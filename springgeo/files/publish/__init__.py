"""Files staged aside and published together, or not at all."""

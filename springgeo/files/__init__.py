"""Files: exporters by name, staged and published together or not at all."""

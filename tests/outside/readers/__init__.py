"""One script per reader: prints one line of JSON with volume in mm³, ok, and what it saw."""

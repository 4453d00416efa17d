"""From the winners to specifications, tables and reasons."""

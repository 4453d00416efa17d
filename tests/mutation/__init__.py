"""Whether the tests notice a changed formula, threshold or aggregation."""

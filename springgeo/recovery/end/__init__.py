"""The end of a part found again: its points, every style laid over them, the best one fitted."""

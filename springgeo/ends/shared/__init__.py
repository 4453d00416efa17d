"""What several wings of end styles share: bends, tips, limits, the loop's plane."""

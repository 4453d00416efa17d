"""Every wire, index and end pair in closed form, and the rules they must pass."""

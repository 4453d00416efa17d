"""Loops at the side of the body: the pull runs beside the axis."""

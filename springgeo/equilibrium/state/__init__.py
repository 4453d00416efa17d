"""What a solved state is: forces at its stations, shape, and the centreline under load."""

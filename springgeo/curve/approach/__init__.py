"""How near the wire comes to itself."""

"""The coils of a part: their axis, pitch and hand, the tube they are, where they end."""

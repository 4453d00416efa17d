"""What a spring must do, and from which wire and ends."""

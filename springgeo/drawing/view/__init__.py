"""What is seen of a spring from one side, hidden lines taken away."""

"""How far a spring may be pulled: states, and where each place reaches its limits."""

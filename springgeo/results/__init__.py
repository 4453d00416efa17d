"""The values that every output carries: frozen models, no computation."""

"""Text files as untrusted input: bounded, safe, refused in one line."""

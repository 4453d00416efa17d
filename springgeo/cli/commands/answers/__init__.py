"""Commands that ask about one spring, or one file."""

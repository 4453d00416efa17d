"""Commands that write files: a spring, its drawing, its page."""

"""Warnings and notes by the rules of the trade: one function per subject."""

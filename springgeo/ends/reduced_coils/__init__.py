"""Loops on end coils of falling diameter."""

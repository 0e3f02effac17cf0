"""Measured things come back: what was set, held against what was computed."""

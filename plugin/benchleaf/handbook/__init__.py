"""Handbook: see the modules."""

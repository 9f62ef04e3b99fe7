"""Checking: see the modules."""

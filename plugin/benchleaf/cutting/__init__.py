"""Cutting: see the modules."""

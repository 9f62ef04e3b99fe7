"""Joinery: see the modules."""

"""Sequencing: see the modules."""

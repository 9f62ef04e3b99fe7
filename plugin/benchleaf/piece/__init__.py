"""Piece: see the modules."""

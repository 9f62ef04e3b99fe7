"""Handbook: published and customary figures, kept as YAML with a source in each row.

Takes nothing but the package's own tables; gives frozen rows. Must not know plans or joints.
"""

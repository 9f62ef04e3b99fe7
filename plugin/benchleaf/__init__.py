"""Benchleaf: build plans for furniture, worked out, proved to fit, drawn and published.

The folders below follow the flow of a plan: reading, shops, piece, shaping, joinery, checking,
cutting, sequencing, buying, scheduling, safety, drawing, site. `pipeline.work_plan` calls them in
that order. Only `site` knows MkDocs.
"""

__version__ = "0.1.0"

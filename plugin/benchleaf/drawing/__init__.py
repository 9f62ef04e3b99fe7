"""Drawing: see the modules."""

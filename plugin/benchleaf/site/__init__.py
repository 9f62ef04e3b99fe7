"""Site: see the modules."""

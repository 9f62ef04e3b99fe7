"""Safety: see the modules."""

"""Reading: see the modules."""

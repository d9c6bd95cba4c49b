"""DC operating points and faults of the wired system."""

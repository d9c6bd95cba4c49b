"""Energy over time."""

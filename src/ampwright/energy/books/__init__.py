"""The books of a step."""

"""Spares to carry in the vehicle."""

"""Conductors as they are cut and connected: what schedule, labels, bill and spares share."""

"""Part records and the shipped catalogue."""

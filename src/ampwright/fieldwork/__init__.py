"""Measured values against the prediction."""

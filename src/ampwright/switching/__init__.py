"""Loads on output channels."""

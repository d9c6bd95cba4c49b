"""Assessment to page model to paper."""

"""Labels to print at their own size."""

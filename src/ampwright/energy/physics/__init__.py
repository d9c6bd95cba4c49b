"""Laws of single devices on plain numbers."""

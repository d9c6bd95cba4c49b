"""Bill of materials and quote."""

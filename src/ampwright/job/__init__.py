"""Job files: schema, validation, resolving parts into a Design."""

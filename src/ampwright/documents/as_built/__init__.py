"""The as-built record: what was fitted and how it was left."""

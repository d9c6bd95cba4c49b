"""Cable schedule, terminal plan and cutting list."""

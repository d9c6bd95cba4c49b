"""The service plan: what is looked at when, and how the system is stored."""

"""The installation pack: routes, order of work and hold points for whoever fits the system."""

"""Sheet to take along when measuring on the vehicle."""

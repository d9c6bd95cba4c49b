"""The guide that stays with whoever uses the vehicle."""

"""The questions of the intake, and the form with which a customer answers them at home."""

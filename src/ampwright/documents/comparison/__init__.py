"""What differs between two jobs, or two revisions of one, and what that does to the answer."""

"""The build pack: every document of a job in one folder."""

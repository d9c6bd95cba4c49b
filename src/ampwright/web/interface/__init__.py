"""The interface for other programs: JSON over HTTP under /api/v1, on the same records as the pages."""

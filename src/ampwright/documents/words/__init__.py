"""Texts of the documents in the reader's language."""

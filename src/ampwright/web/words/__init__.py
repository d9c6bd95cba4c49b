"""Texts of the web app in the reader's language."""

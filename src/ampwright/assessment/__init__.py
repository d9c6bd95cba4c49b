"""Runs every study once, applies the rules and folds the findings into two verdicts."""

"""The evidence report: every finding with its figures and sources, what was assumed and what was not checked."""

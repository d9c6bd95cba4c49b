"""The job as one page in one file, to hand over."""

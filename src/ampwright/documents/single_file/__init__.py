"""Pages that are one file: they open from a disk, ask nobody anything, and print."""

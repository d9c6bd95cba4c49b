"""Several runs side by side in the lanes of a vector register."""

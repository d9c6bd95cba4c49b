"""One file with everything a workshop has kept, and a workshop made anew from it."""

"""Many checks at once: jobs over places and months, on threads or on other machines, kept as Parquet."""

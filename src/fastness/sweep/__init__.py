"""Large archives: cut into batches, worked on in many processes, kept as Parquet, exactly once."""

"""Live board sessions: what a class is shown, its tries and their verdicts, as plain data."""

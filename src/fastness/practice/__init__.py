"""Practice: what was missed comes back at the right time, beside what is new."""

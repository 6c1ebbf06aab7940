"""Homework with the codes that carry its answers, and practice: what was missed comes back."""

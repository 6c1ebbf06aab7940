"""Exercises: positions with firm answers, from games and composed, and their marking."""

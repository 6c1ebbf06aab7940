"""Homework: what may be answered, the code that carries the answers, and what comes back marked."""

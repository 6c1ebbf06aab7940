"""Lesson files: Markdown with positions whose claims are checked like code."""

"""A position's survey in words: the page a teacher reads. No input or output happens here."""

from fastness.survey.page import page

__all__ = ["page"]

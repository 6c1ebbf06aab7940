"""What is printed or shown: diagrams, and documents as PDF, HTML and text."""

from fastness.publish.diagram import position_in_words, svg_diagram, svg_position
from fastness.publish.html import html
from fastness.publish.pdf import pdf, pictures
from fastness.publish.text import text

__all__ = ["html", "pdf", "pictures", "position_in_words", "svg_diagram", "svg_position", "text"]

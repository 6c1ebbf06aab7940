"""What is made of a survey for print and screen. No input or output happens here."""

from fastness.publish.diagram import svg_diagram

__all__ = ["svg_diagram"]

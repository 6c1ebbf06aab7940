"""A position's survey as claims, and in words. No input or output happens here."""

from fastness.survey.one_line import in_one_line
from fastness.survey.page import page
from fastness.survey.student import for_student
from fastness.survey.words import WAYS, order_of_ways

__all__ = ["WAYS", "for_student", "in_one_line", "order_of_ways", "page"]

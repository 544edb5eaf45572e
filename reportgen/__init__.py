"""Lesson reports for golf instructors: a sheet per lesson in, judged reports and PDF recaps out."""

__version__ = "0.2.0"

"""Hypothesis for all tests: the same examples on every run, and no clock, since a test machine can be slow."""

from hypothesis import settings

settings.register_profile("reportgen", deadline=None, derandomize=True, database=None)
settings.load_profile("reportgen")

"""The error that every part raises when a run cannot go on: its message is one line for a person."""


class ReportgenError(Exception):
    """What went wrong, and how to mend it."""

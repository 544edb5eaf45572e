"""What went wrong, as a line for a person."""

from reportgen.errors import ReportgenError


def in_words(error: Exception) -> str:
    """What an error says."""
    if isinstance(error, ReportgenError):
        return str(error)
    if isinstance(error, OSError):
        return f"{error.filename or ''}: {error.strerror or error}".removeprefix(": ")
    return f"{type(error).__name__}: {error}"

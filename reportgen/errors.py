"""The error that every part raises when a run cannot go on: its message is one line for a person."""


class ReportgenError(Exception):
    """What went wrong, and how to mend it."""


class ThemeError(ReportgenError):
    """A file of a theme cannot be used; the message says where and why."""


class MachineError(ReportgenError):
    """The machine lacks something that a run needs, and no sheet is to blame; the message says what."""


_NO_MEMORY = (
    "cannot allocate memory",
    "failed to map segment",
    "not enough memory",
    "without setting an exception",
    "without exception set",
)
"""How the system, libraries and the interpreter say, in small letters, that there is none left: the last where even the
error found no place."""


def no_memory(error: Exception) -> bool:
    """Whether an error says that the machine has no memory left."""
    return isinstance(error, MemoryError) or any(sign in str(error).lower() for sign in _NO_MEMORY)

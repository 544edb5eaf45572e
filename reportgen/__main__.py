"""The program as it is called: whatever ends it ends in one line for a person, never in a traceback."""

import os
import sys

from reportgen.errors import no_memory

INTACT = "What was published before is intact."


def main() -> None:
    """Run the command that was given; leaves with exit code 2 where it cannot run."""
    try:
        from reportgen.cli import main as command  # to load it can fail too

        command()
    except Exception as error:
        says = _said(error)
    else:
        return
    if sys.stderr is not None:
        sys.stderr.write(f"{says}\n")
    sys.exit(2)


def _said(error: Exception) -> str:
    """What ended the program, in one line."""
    says = " ".join(str(error).split())
    if no_memory(error):
        return f"There is not enough memory. {INTACT} Close other programs and try again, publishing with --jobs 1."
    if isinstance(error, ImportError):
        return f"A part of the program cannot be loaded: {says[:300]}. Install it again."
    if isinstance(error, OSError):
        where = f"{error.filename}: " if error.filename else ""
        return f"{where}{error.strerror or says[:300]}. {INTACT}"
    place = f"{type(error).__name__}: {says[:200]} ({_place(error)})"
    return f"A fault of the program: {place}. {INTACT} Please report this line."


def _place(error: Exception) -> str:
    """Where it came up, without the module for tracebacks: that may be the very file that cannot be opened."""
    last = error.__traceback__
    while last is not None and last.tb_next is not None:
        last = last.tb_next
    return f"{os.path.basename(last.tb_frame.f_code.co_filename)}, line {last.tb_lineno}" if last else "nowhere"


if __name__ == "__main__":
    main()

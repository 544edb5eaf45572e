"""What goes wrong while one student is made is a problem of that student, and holds up nobody else."""

import traceback
from pathlib import Path

from reportgen.errors import MachineError, ThemeError, no_memory
from reportgen.pages.printing import LayoutError, TooLongError
from reportgen.sheets.academy_folder import Home
from reportgen.sheets.picture_files import BrokenPictureError
from reportgen.sheets.problems import Problem, shown


def problem_of(error: Exception, student: str, home: Home) -> Problem:
    """The problem of a student behind an error. Raises the error itself where it is no student's: a template or style
    of the academy's own, and what the machine has not enough of."""
    if isinstance(error, (ThemeError, MachineError, ImportError)) or no_memory(error):
        raise error
    here = f"students/{student}"
    if isinstance(error, BrokenPictureError):
        name = error.file.relative_to(home.root).as_posix()
        return Problem(name, 1, 1, "the picture is broken", "Save it again.")
    if isinstance(error, TooLongError):
        mend = "Shorten the notes of its drills and its cautions, or give fewer drills."
        return Problem(f"{here}/lessons/{error.lesson}.yaml", 1, 1, str(error), mend)
    if isinstance(error, LayoutError):
        if home.academy.theme is not None:
            raise error
        return Problem(here, 1, 1, f"a page cannot be laid out: {shown(str(error))}", "Look at texts and pictures.")
    if isinstance(error, OSError):
        return _of_a_file(error, here, home.root)
    return Problem(here, 1, 1, f"the pages could not be made ({_told(error)})", "Please report this line: it is a bug.")


def lost(student: str, tries: int) -> Problem:
    """The problem of a student over whom workers were lost."""
    wrong = f"{tries} workers were lost over these pages, and nobody knows why"
    return Problem(f"students/{student}", 1, 1, wrong, "Is there memory enough? Try --jobs 1.")


def _of_a_file(error: OSError, here: str, root: Path) -> Problem:
    """The problem of a file of the academy that cannot be read. Raises the error where it is of any other file."""
    file = Path(str(error.filename)) if error.filename else root
    if file == root or not file.is_relative_to(root):
        raise error
    name = shown(file.relative_to(root).as_posix())
    if isinstance(error, FileNotFoundError):
        return Problem(here, 1, 1, f"{name} was taken away while it was read", "Publish again.")
    return Problem(name, 1, 1, f"the file cannot be read ({error.strerror})", "Look at its name and its rights.")


def _told(error: Exception) -> str:
    """An error that nobody thought of, with the place where it came up."""
    last = traceback.extract_tb(error.__traceback__)[-1]
    return f"{type(error).__name__}: {shown(str(error))}, {Path(last.filename).name}:{last.lineno}"

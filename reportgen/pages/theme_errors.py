"""What is wrong with a template, told as of any file that an academy writes: file, line, what, how to mend it."""

import traceback
from collections import Counter
from pathlib import Path
from types import TracebackType
from typing import NoReturn

from jinja2 import TemplateError, TemplateNotFound

from reportgen.errors import ThemeError
from reportgen.sheets.problems import shown
from reportgen.sheets.shipped import shipped


def told(error: Exception) -> NoReturn:
    """Raise what a template ran into as ThemeError, or as it is where it is not the academy's doing."""
    if isinstance(error, ThemeError):
        raise error
    places = [place for place in _lines(error.__traceback__) if not place[0].endswith(".py")]  # a template is no Python
    own = [place for place in places if not Path(place[0]).is_relative_to(shipped("themes"))]
    if not places or not (own or isinstance(error, TemplateError)):
        raise error
    if isinstance(error, RecursionError):  # the last line is where it was given up; the circle closes before it
        times = Counter(own or places)  # in the order in which they were come to
        file, line = [place for place in times if times[place] > 1][-1]
        wrong = "the template includes or calls itself without end"
    else:
        file, line = (own or places)[-1]
        wrong = _wrong(error)
    raise ThemeError(f"{file}:{line}: {wrong}. Mend that line.") from error


def not_compiled(error: Exception, file: str) -> ThemeError:
    """What to raise for a template that is too deep for the compiler, which says nothing of its lines."""
    line = 1
    for frame, _ in traceback.walk_tb(error.__traceback__):
        node, stream = frame.f_locals.get("node"), getattr(frame.f_locals.get("self"), "stream", None)
        for here in (node, getattr(stream, "current", None)):
            line = getattr(here, "lineno", line)
    return ThemeError(f"{file}:{line}: the template is nested too deeply. Mend that line.")


def _wrong(error: Exception) -> str:
    if isinstance(error, TemplateNotFound):
        return f"no theme has the file {shown(str(error.name))}, which the template asks for"
    says = str(error).splitlines()[0] if str(error) else type(error).__name__
    return f"the template is wrong: {says.rstrip('.')}"


def _lines(tb: TracebackType | None) -> list[tuple[str, int]]:
    return [(frame.f_code.co_filename, line) for frame, line in traceback.walk_tb(tb)]

"""Whether the language that a sheet names has a catalogue that can be read."""

import os
from pathlib import Path
from typing import Any

from reportgen.languages.catalogues import ENGLISH, CatalogueError, language_of, languages_in
from reportgen.records.bounds import CATALOGUE_BYTES
from reportgen.sheets.files import leads_out
from reportgen.sheets.problems import Problem, shown_line
from reportgen.sheets.reading import Sheet
from reportgen.sheets.shipped import shipped


def catalogue_folders(root: Path) -> tuple[Path, Path]:
    """Where catalogues are looked for: those that came with the program, then the academy's own."""
    return shipped("content") / "languages", root / "languages"


def language_problems(sheet: Sheet[Any], code: str | None, root: Path) -> list[Problem]:
    """The problems with the `language` of a sheet and with its catalogue; `root` is the academy's folder."""
    if code is None or code == ENGLISH.code:
        return []
    folders = catalogue_folders(root)
    if fault := _file_fault(folders[1] / f"{code}.po", root):
        return [Problem(f"languages/{code}.po", 1, 1, *fault)]
    try:
        language_of(code, *folders)
    except LookupError:
        known = ", ".join(languages_in(*folders))
        mend = f"Write one of {known}, or put a catalogue languages/{code}.po into the academy."
        return [sheet.problem(("language",), f"there is no catalogue of the language {code}", mend)]
    except CatalogueError as error:
        return [
            Problem(f"languages/{error.file.name}", line, 1, shown_line(wrong), shown_line(mend))
            for line, wrong, mend in error.faults
        ]
    return []


def _file_fault(file: Path, root: Path) -> tuple[str, str] | None:
    """What keeps a catalogue of the academy's own from being read."""
    if os.path.lexists(file) and leads_out(file, root):
        return "the file is a link out of the academy", "Put the file itself there."
    if os.path.isfile(file) and os.path.getsize(file) > CATALOGUE_BYTES:
        return f"the file is larger than {CATALOGUE_BYTES >> 20} MiB", "Take out what is no message."
    return None

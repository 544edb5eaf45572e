"""Whether the language that a sheet names has a catalogue that can be read."""

from pathlib import Path
from typing import Any

from reportgen.languages.catalogues import CatalogueError, language_of, languages_in
from reportgen.sheets.problems import Problem
from reportgen.sheets.reading import Sheet
from reportgen.sheets.shipped import shipped


def catalogue_folders(root: Path) -> tuple[Path, Path]:
    """Where catalogues are looked for: those that came with the program, then the academy's own."""
    return shipped("content") / "languages", root / "languages"


def language_problems(sheet: Sheet[Any], code: str | None, root: Path) -> list[Problem]:
    """The problem with the `language` of a sheet, where there is one; `root` is the academy's folder."""
    if code is None:
        return []
    folders = catalogue_folders(root)
    try:
        language_of(code, *folders)
    except LookupError:
        known = ", ".join(languages_in(*folders))
        mend = f"Write one of {known}, or put a catalogue languages/{code}.po into the academy."
        return [sheet.problem(("language",), f"there is no catalogue of the language {code}", mend)]
    except CatalogueError as error:
        return [sheet.problem(("language",), f"its catalogue cannot be read: {error}", "Mend that file.")]
    return []

"""What belongs to no student, as pages that are looked at while one writes need it: style, library, guide."""

from collections.abc import Mapping

from reportgen.pages.drill_library import library_pages
from reportgen.pages.guide_pages import guide_pages
from reportgen.pages.shared_pages import assets
from reportgen.sheets.academy_folder import AcademyFolder, Home, SoundAcademy
from reportgen.sheets.no_academy import no_academy_yet

FIRST: Mapping[str, str] = {"assets": "style.css", "library": "index.html", "guide": "index.html"}
"""A file of each part that is made with all its others."""


def shared_files(part: str, folder: AcademyFolder, sound: SoundAcademy | None, language: str) -> Mapping[str, bytes]:
    """The files of a part of the site, by their names in it, of the academy in `folder`; `sound` is the same where
    nothing that touches every student has a problem. Style and guide are there at any rate, the guide in a language."""
    if part == "assets":
        return assets(Home(folder.root, folder.academy) if folder.academy else no_academy_yet(language))
    if part == "guide":
        return guide_pages(sound or no_academy_yet(language))
    return library_pages(sound) if sound is not None else {}

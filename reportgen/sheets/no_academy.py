"""What stands in for an academy before there is one: the guide and the style of pages need no more."""

from secrets import token_urlsafe

from reportgen.records.academy import Academy, Instructor
from reportgen.sheets.academy_folder import SoundAcademy
from reportgen.sheets.library import load_library
from reportgen.sheets.shipped import shipped


def no_academy_yet(language: str) -> SoundAcademy:
    """An academy with the shipped library and nothing of its own, whose pages are in a language."""
    root = shipped("content") / "start"
    academy = Academy(name="-", instructor=Instructor(name="-"), secret=token_urlsafe(24), language=language)
    return SoundAcademy(root, academy, load_library(shipped("content"), root)[0])

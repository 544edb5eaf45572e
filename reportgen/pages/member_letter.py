"""The letter that brings a member address and passphrase: one page, for nobody else's eyes."""

from io import BytesIO

import segno

from reportgen.languages.catalogues import ENGLISH, Language
from reportgen.languages.speaking import speaking
from reportgen.pages.printing import LayoutError, ToPrint, printed
from reportgen.pages.theme import environment, stylesheet
from reportgen.sheets.academy_folder import Home


def member_letter(
    name: str,
    own_pages: bool,
    address: str,
    passphrase: str,
    home: Home,
    language: Language = ENGLISH,
) -> bytes:
    """The letter as PDF; `own_pages` where the member is a student, otherwise the library alone is theirs.

    Raises LayoutError where a theme's own template takes more than one page.
    """
    drawn = BytesIO()
    segno.make(address, error="m", micro=False).save(drawn, kind="svg", border=0, xmldecl=False, dark="#22302f")
    letter = environment(home).get_template("letter.html")
    with speaking(language):
        text = letter.render(name=name, own_pages=own_pages, address=address, passphrase=passphrase)
    files = {"code:address": (drawn.getvalue(), "image/svg+xml")}
    made = printed(ToPrint(text, stylesheet("letter.css", home), files, most_pages=1))
    if made.pdf is None:
        raise LayoutError(f"the letter for {name} takes {made.pages} pages, more than one")
    return made.pdf

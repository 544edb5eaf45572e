"""The letter that brings a member address and passphrase: one page, for nobody else's eyes."""

from io import BytesIO
from pathlib import Path

import segno

from reportgen.languages.catalogues import ENGLISH, Language
from reportgen.languages.speaking import speaking
from reportgen.pages.pdf import LayoutError, laid_out
from reportgen.pages.theme import environment
from reportgen.records.academy import Academy


def member_letter(
    name: str,
    own_pages: bool,
    address: str,
    passphrase: str,
    academy: Academy,
    root: Path,
    language: Language = ENGLISH,
) -> bytes:
    """The letter as PDF; `own_pages` where the member is a student, otherwise the library alone is theirs.

    Raises LayoutError where a theme's own template takes more than one page.
    """
    drawn = BytesIO()
    segno.make(address, error="m", micro=False).save(drawn, kind="svg", border=0, xmldecl=False, dark="#22302f")
    letter = environment(academy, root).get_template("letter.html")
    with speaking(language):
        text = letter.render(name=name, own_pages=own_pages, address=address, passphrase=passphrase)

    def loads(kind: str, name: str) -> tuple[bytes, str] | None:
        return (drawn.getvalue(), "image/svg+xml") if (kind, name) == ("code", "address") else None

    made = laid_out(text, "letter.css", academy, root, loads)
    if made.pages != 1:
        raise LayoutError(f"the letter for {name} takes {made.pages} pages, more than one")
    return made.pdf()

"""How students read what is published, as their mails tell it: by addresses, and by passphrases of PDFs."""

from collections.abc import Callable

from reportgen.delivery.making import Reading
from reportgen.sealing.addresses import area_address, page_address
from reportgen.sealing.members import pdf_lock
from reportgen.sealing.privacy import is_private
from reportgen.sheets.academy_folder import AcademyFolder, sound


def reading_of(folder: AcademyFolder, ask: Callable[[], str], *, everybody: bool = False) -> Reading:
    """How the pages of an academy are read. `ask` gives the instructor's passphrase, where a PDF is to be locked: those
    of students who want that, or of `everybody`. Raises ReportgenError."""
    sealed = is_private(sound(folder))
    return Reading(
        lambda report, of: page_address(report, of, sealed=sealed),
        area_address,
        pdf_lock(folder, ask, everybody=everybody),
    )

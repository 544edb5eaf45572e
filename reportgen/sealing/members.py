"""Who may read: members added to the keyring and taken out of it, and the letter that brings each their passphrase."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

from reportgen.errors import ReportgenError
from reportgen.records.academy import Academy
from reportgen.records.base import Record, Slug
from reportgen.rights import write_atomically
from reportgen.saying.readers import reader_of
from reportgen.sealing.keyring import (
    Keyring,
    empty_keyring,
    member_names,
    read_keyring,
    with_member,
    without_member,
    write_keyring,
)
from reportgen.sealing.passphrases import SHORTEST
from reportgen.sealing.privacy import keyring_of
from reportgen.sealing.sealed_site import LIBRARY, place_of
from reportgen.sheets.academy_folder import AcademyFolder, sound
from reportgen.sheets.problems import nearest

Ask = Callable[[], str]
"""Gives the instructor's passphrase, once it is needed."""


class MembersError(ReportgenError):
    """What was asked of the members cannot be done; the message says why and how to mend it."""


class _Id(Record):
    id: Slug


@dataclass(frozen=True)
class Listed:
    """A member as `list` shows them: a student's pages and the library, or the library alone."""

    name: str
    own_pages: bool


def members_of(folder: AcademyFolder) -> tuple[Listed, ...]:
    """All members; none where there is no keyring. Raises KeyringError."""
    file = keyring_of(folder.root)
    names = member_names(file) if file.exists() else ()
    return tuple(Listed(name, name in folder.students) for name in names)


def add_members(
    folder: AcademyFolder, names: Iterable[str], ask: Ask, *, anew: bool = False, library_only: bool = False
) -> None:
    """Give each of `names` a passphrase, with `anew` also to those who have one; makes the keyring where there is none.

    Raises MembersError, KeyringError, OSError.
    """
    _refuse_open_pages(folder)
    file = keyring_of(folder.root)
    new, passphrase = not file.exists(), ask()
    if new and len(passphrase) < SHORTEST:
        raise MembersError(f"Your passphrase is too short. Give at least {SHORTEST} signs, for instance five words.")
    keyring = empty_keyring() if new else read_keyring(file, passphrase)
    for name in names:
        if name in keyring.members and not anew:
            raise MembersError(f"{name} is a member already. Give a new passphrase with --anew; the old one ends then.")
        if name not in folder.students:
            if not library_only:
                mend = nearest(name, folder.students, "Somebody who is to have the library alone: add --library-only.")
                raise MembersError(f"There is no student {name}. {mend}")
            _check_id(name)
        keyring = with_member(keyring, name)
    write_keyring(file, keyring, passphrase)


def remove_members(folder: AcademyFolder, names: Iterable[str], ask: Ask) -> None:
    """Take members out: their passphrases open nothing that is published from now on.

    Raises MembersError, KeyringError, OSError.
    """
    file = keyring_of(folder.root)
    passphrase = _asked(folder.root, ask)
    keyring = read_keyring(file, passphrase)
    for name in names:
        _known(name, keyring)
        keyring = without_member(keyring, name)
    write_keyring(file, keyring, passphrase)


def write_letter(folder: AcademyFolder, name: str, ask: Ask, to: Path) -> Path:
    """Write the letter for one member to `to`, for its owner's eyes alone, replacing what is there in one step.

    Raises ReportgenError where academy.yaml or the library has problems, MembersError, KeyringError, OSError.
    """
    from reportgen.pages.member_letter import member_letter

    home = sound(folder)
    academy = home.academy
    _refuse_open_pages(folder)
    if academy.site is None:
        raise MembersError("The letter needs the address of your site. Write site: https://... into academy.yaml.")
    if to.suffix.lower() != ".pdf":
        raise MembersError(f"{to} is not the name of a PDF. Give one that ends in .pdf.")
    keyring = opened_keyring(folder.root, ask)
    _known(name, keyring)
    student = folder.students[name].student if name in folder.students else None
    called = student.first_name if student else name.replace("-", " ").title()
    place = place_of(name, academy) if name in folder.students else LIBRARY
    letter = member_letter(
        called,
        name in folder.students,
        door(place, academy),
        keyring.members[name].passphrase,
        home,
        reader_of(student, home).language,
    )
    write_atomically(to, letter)
    return to


def door(place: str, academy: Academy) -> str:
    """The address of an area's first page; the academy's site must be known."""
    return f"{str(academy.site).rstrip('/')}/{place}/"


def pdf_lock(folder: AcademyFolder, ask: Ask, *, everybody: bool) -> Callable[[str, bytes], bytes | None]:
    """Encrypts the PDFs of students who want that, or of `everybody`, with the passphrase of whom they are about; gives
    nothing for others, whose PDFs stay as they are.

    Raises KeyringError, MembersError where there is something to lock and no keyring opens; what it gives raises
    MembersError for a student who has no passphrase.
    """
    wanted = {name for name, one in folder.students.items() if everybody or (one.student and one.student.lock_pdf)}
    if not wanted:
        return lambda student, pdf: None
    from reportgen.sealing.locked import locked_pdf

    keyring = opened_keyring(folder.root, ask)

    def lock(student: str, pdf: bytes) -> bytes | None:
        if student not in wanted:
            return None
        _known(student, keyring)
        return locked_pdf(pdf, keyring.members[student].passphrase)

    return lock


def opened_keyring(root: Path, ask: Ask) -> Keyring:
    """The keyring of an academy. Raises KeyringError, MembersError where there is none."""
    return read_keyring(keyring_of(root), _asked(root, ask))


def _refuse_open_pages(folder: AcademyFolder) -> None:
    """Nobody is given a passphrase to pages that lie open."""
    if folder.academy is not None and folder.academy.private == "link-only":
        raise MembersError(
            "academy.yaml says private: link-only, so whoever has the address reads the pages, and a passphrase would "
            "keep nobody out. Write private: sealed there."
        )


def _asked(root: Path, ask: Ask) -> str:
    file = keyring_of(root)
    if not file.exists():
        raise MembersError(f"There is no keyring {file}. Put it back, or begin one: reportgen members add {root} --all")
    return ask()


def _known(name: str, keyring: Keyring) -> None:
    if name not in keyring.members:
        raise MembersError(f"{name} is no member. {nearest(name, keyring.members)}")


def _check_id(name: str) -> None:
    try:
        _Id(id=name)
    except ValueError:
        raise MembersError(f"{name!r} is not an id. Write small letters, digits and hyphens, as in mara-l.") from None

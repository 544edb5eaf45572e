"""Whether an academy's pages are sealed, what says otherwise, and whom that leaves without pages."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from reportgen.records.academy import Academy
from reportgen.sheets.academy_folder import AcademyFolder, Home
from reportgen.sheets.problems import Problem
from reportgen.sheets.reading import read_sheet

if TYPE_CHECKING:
    from reportgen.sealing.keyring import Keyring

KEYS = "keys.html"
"""The file of a sealed area that holds its keys, each wrapped for one passphrase."""


def keyring_of(academy: Path) -> Path:
    """Where the keyring of an academy stands: beside its folder."""
    home = academy.resolve()
    return home.parent / f"{home.name}.keys"


def mark_beside(keyring: Path) -> Path:
    """The mark beside a keyring: it says that the academy is sealed, even where the keyring is lost."""
    return keyring.with_suffix(".sealed")


def signs_of_sealing(academy: Path) -> list[Path]:
    """What stands beside an academy and says that its pages are sealed: the keyring, the mark, both or neither."""
    file = keyring_of(academy)
    return [one for one in (file, mark_beside(file)) if one.exists()]


def is_private(home: Home) -> bool:
    """Whether the pages are sealed: as academy.yaml says, otherwise as soon as there was a keyring. Where the two
    contradict each other nothing is published (`contradiction`)."""
    private = home.academy.private
    return private == "sealed" or (private is None and bool(signs_of_sealing(home.root)))


def keyring_where_sealed(home: Home, ask: Callable[[], str]) -> "Keyring | None":
    """The academy's keyring, opened with the passphrase that `ask` gives, where its pages are sealed and it is there.
    Raises KeyringError."""
    if not is_private(home) or not keyring_of(home.root).exists():
        return None
    from reportgen.sealing.members import opened_keyring

    return opened_keyring(home.root, ask)


def contradiction(academy: Academy | None, root: Path) -> Problem | None:
    """The problem of an academy.yaml that wants open pages, where students have passphrases and letters."""
    if academy is None or academy.private != "link-only" or not (signs := signs_of_sealing(root)):
        return None
    sheet, _ = read_sheet(root / "academy.yaml", "academy.yaml", Academy)
    wrong = f"private: link-only lays the pages open, and {signs[0]} says that they are sealed"
    away = f"delete {' and '.join(map(str, signs))}"
    mend = f"Write private: sealed. Or, to open them to whoever has the address, {away}: every passphrase ends then."
    return Problem("academy.yaml", 1, 1, wrong, mend) if sheet is None else sheet.problem(("private",), wrong, mend)


def is_sealed(area: Path) -> bool:
    """Whether the published area in a folder is sealed."""
    return (area / KEYS).is_file()


def privacy_warnings(folder: AcademyFolder) -> list[str]:
    """What an instructor should know of who can read the pages; the sheets are sound all the same.

    Raises KeyringError where the keyring is damaged.
    """
    academy, file = folder.academy, keyring_of(folder.root)
    if academy is None or academy.private == "link-only":
        return []
    if not file.exists():
        add = f"reportgen members add {folder.root} --all"
        if is_private(Home(folder.root, academy)):
            return [
                f"academy.yaml: the pages are sealed, and there is no keyring {file}. Put it back, or begin anew: {add}"
            ]
        return [
            "academy.yaml: there is no keyring beside the academy, so whoever has the address reads the pages. "
            f"Give passphrases: {add}. Or write private: link-only."
        ]
    from reportgen.sealing.keyring import member_names

    without = sorted(set(folder.students) - set(member_names(file)))
    return [
        f"students/{name}: no passphrase, so no pages. Give one: reportgen members add {folder.root} {name}"
        for name in without
    ]

"""Whether an academy's pages are sealed, and whom that leaves without pages."""

from pathlib import Path

from reportgen.records.academy import Academy
from reportgen.sheets.academy_folder import AcademyFolder

KEYS = "keys.html"
"""The file of a sealed area that holds its keys, each wrapped for one passphrase."""


def keyring_of(academy: Path) -> Path:
    """Where the keyring of an academy stands: beside its folder."""
    home = academy.resolve()
    return home.parent / f"{home.name}.keys"


def is_private(academy: Academy, root: Path) -> bool:
    """Whether the pages are sealed: as academy.yaml says, otherwise as soon as there is a keyring."""
    return academy.private == "sealed" or (academy.private is None and keyring_of(root).exists())


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
        what = "and private: sealed cannot be kept" if academy.private else "so whoever has the address reads the pages"
        mend = f"Give passphrases: reportgen members add {folder.root} --all. Or write private: link-only."
        return [f"academy.yaml: there is no keyring beside the academy, {what}. {mend}"]
    from reportgen.publishing.keyring import member_names

    without = sorted(set(folder.students) - set(member_names(file)))
    return [
        f"students/{name}: no passphrase, so no pages. Give one: reportgen members add {folder.root} {name}"
        for name in without
    ]

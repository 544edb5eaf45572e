"""The folder that a phone copies films and pictures into: read alone, never changed."""

from collections.abc import Iterator
from pathlib import Path

from reportgen.records.academy import Academy


def inbox_of(academy: Academy) -> Path | None:
    """The folder that the academy names, with ~ as the user's own; None where it names none."""
    if academy.inbox is None:
        return None
    try:
        return Path(academy.inbox).expanduser()
    except RuntimeError:  # nobody knows the home of that user
        return Path(academy.inbox)


def inbox_warnings(academy: Academy | None, root: Path) -> Iterator[str]:
    """What `check` says of the inbox: that it is not there, or lies where pages are made from."""
    folder = inbox_of(academy) if academy is not None else None
    if folder is None:
        return
    if not folder.is_dir():
        yield f"academy.yaml: the inbox {folder} is not a folder on this computer. The desk finds nothing in it."
    elif folder.resolve().is_relative_to(root.resolve()):
        yield f"academy.yaml: the inbox {folder} lies in the academy. Let the phone copy into a folder beside it."

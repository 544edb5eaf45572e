"""Mails as files in a folder, for any mail program to open and send."""

import os
from collections.abc import Callable
from pathlib import Path

from reportgen.delivery.letter import Letter


def outbox_of(academy: Path) -> Path:
    """Where mails of an academy are written unless told otherwise: beside its folder."""
    home = academy.resolve()
    return home.with_name(f"{home.name}.outbox")


def write_letter(letter: Letter, outbox: Path, about_to_appear: Callable[[], None]) -> Path:
    """Write a mail as `<lesson>-<student>-<revision>.eml`; it is whole and on the disk when it appears.

    `about_to_appear` is called just before it does. Raises OSError, and then leaves nothing behind.
    """
    outbox.mkdir(parents=True, exist_ok=True)
    place = outbox / f"{letter.lesson}-{letter.student}-{letter.revision[:8]}.eml"
    beside = place.with_name(f".{place.name}.part")
    try:
        with open(os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "wb") as file:
            file.write(letter.data)
            file.flush()
            os.fsync(file.fileno())
        about_to_appear()
        beside.replace(place)
    except OSError:
        beside.unlink(missing_ok=True)
        raise
    _keep_names(outbox)
    return place


def _keep_names(folder: Path) -> None:
    """Bring the names in a folder to the disk, where the system can."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)

"""Mails as files in a folder, for any mail program to open and send."""

import os
from collections.abc import Callable
from pathlib import Path

from reportgen.delivery.letter import Letter
from reportgen.rights import FOLDER, bring_to_disk, own_folder, replacing

BEGUN = (".new", ".part")
"""How the names of mails end that were being written when a run was killed; .part is of earlier programs."""


def outbox_of(academy: Path) -> Path:
    """Where mails of an academy are written unless told otherwise: beside its folder."""
    home = academy.resolve()
    return home.with_name(f"{home.name}.outbox")


def close_outbox(outbox: Path) -> None:
    """Close the outbox to others, where it holds nothing but mails: then an earlier program has made it."""
    if outbox.is_dir() and all(entry.name.endswith((".eml", *BEGUN)) for entry in outbox.iterdir()):
        own_folder(outbox)


def write_letter(letter: Letter, outbox: Path, about_to_appear: Callable[[], None]) -> Path:
    """Write a mail as `<lesson>-<student>-<revision>.eml`; it is whole and on the disk when it appears.

    `about_to_appear` is called just before it does. Raises OSError, and then leaves nothing behind.
    """
    outbox.mkdir(mode=FOLDER, parents=True, exist_ok=True)
    place = outbox / f"{letter.lesson}-{letter.student}-{letter.revision[:8]}.eml"
    with replacing(place) as stream:
        stream.write(letter.data)
        bring_to_disk(stream)  # the journal says that it is sent, and nobody makes it again
        about_to_appear()
    _keep_names(outbox)
    return place


def _keep_names(folder: Path) -> None:
    """Bring the names in a folder to the disk, where the system can."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)

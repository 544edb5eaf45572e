"""The files of an academy: which lie inside it, what a folder holds, and the text of bytes or why there is none."""

import os
from codecs import BOM_UTF8
from pathlib import Path, PurePosixPath

from reportgen.records.bounds import SHEET_BYTES
from reportgen.sheets.problems import Problem, is_hidden

_SYSTEMS_OWN = frozenset((".ds_store", "desktop.ini", "thumbs.db"))


def is_the_systems(name: str) -> bool:
    """Whether a file of that name was written by the system, which keeps there how it shows a folder."""
    return name.lower() in _SYSTEMS_OWN


def text_of(raw: bytes, path: str) -> tuple[str | None, Problem | None]:
    """The text of a file, or the problem why it has none: too large, empty, not UTF-8."""
    if len(raw) > SHEET_BYTES:
        return None, Problem(
            path, 1, 1, "the file is larger than 1 MiB", "A sheet holds a lesson: take out what is not part of it."
        )
    text, problem = decoded(raw, path)
    if text is not None and not text.strip():
        return None, Problem(path, 1, 1, "the file is empty", "Write the sheet, or delete the file.")
    return text, problem


def decoded(raw: bytes, path: str) -> tuple[str | None, Problem | None]:
    """The text of UTF-8 bytes, without the byte order mark that some editors write before it, or the place at which
    they first are none; UTF-16 is called by name."""
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")) or 0 in raw[:2]:  # without a mark every second byte is 0
        return None, Problem(path, 1, 1, "the file is saved as UTF-16", "Save it as UTF-8.")
    raw = raw.removeprefix(BOM_UTF8)
    try:
        return raw.decode("utf-8"), None
    except UnicodeDecodeError as error:
        before = raw[: error.start]
        column = len(before.rsplit(b"\n", 1)[-1].decode("utf-8", "replace")) + 1
        wrong = f"the byte 0x{raw[error.start]:02x} is not UTF-8"
        return None, Problem(path, before.count(b"\n") + 1, column, wrong, "Save the file as UTF-8.")


def leads_out(file: Path, folder: Path) -> bool:
    """Whether a file in `folder`, or a folder on the way to it, is a link out of it, or in a circle."""
    try:
        return not file.resolve().is_relative_to(folder.resolve())
    except (OSError, RuntimeError):
        return True


def entries(folder: Path, path: str, problems: list[Problem], within: Path, most: int) -> list[Path]:
    """What a folder of the academy holds, told as `path`, by name; nothing where it is not there.

    It is a problem where it cannot be read, leads out of the academy, whose folder `within` is, or holds more than
    `most`; what is too many is left out.
    """
    if not os.path.isdir(folder):
        return []
    if leads_out(folder, within):
        problems.append(Problem(path, 1, 1, "the folder is a link out of the academy", "Put the folder itself there."))
        return []
    try:
        found = sorted(folder.iterdir())
    except OSError as error:
        problems.append(
            Problem(path, 1, 1, f"the folder cannot be read ({error.strerror})", "Look at its name and its rights.")
        )
        return []
    if len(found) > most:
        wrong = f"the folder holds {len(found)} files, more than {most}"
        problems.append(Problem(path, 1, 1, wrong, "Take out what is not needed."))
    return found[:most]


def below(written: str, folder: Path, root: Path) -> tuple[Path | None, tuple[str, str] | None]:
    """The file that a sheet means, or (what is wrong, how to mend it) where its path leaves the academy."""
    if PurePosixPath(written).is_absolute() or "\\" in written:
        return None, ("the path is not relative to the sheet", "Write it as ../stills/name.png.")
    if is_hidden(written):
        return None, ("the path is a hidden one", "Give file and folder names without a point in front or a ~ behind.")
    try:
        file = (folder / written).resolve()
        inside = file.is_relative_to(root.resolve())
    except (OSError, ValueError, RuntimeError):
        return None, ("the path cannot be followed", "Write it as ../stills/name.png.")
    if not inside:
        return None, ("the file lies outside the academy", "Put it into the student's folder.")
    return file, None

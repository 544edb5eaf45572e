"""Bytes of a file -> its text, or the problem why it has none."""

from reportgen.sheets.problems import Problem

MAX_BYTES = 1 << 20


def text_of(raw: bytes, path: str) -> tuple[str | None, Problem | None]:
    """The text of a file, or the problem why it has none: too large, empty, a byte order mark, not UTF-8."""
    if len(raw) > MAX_BYTES:
        return None, Problem(
            path, 1, 1, "the file is larger than 1 MiB", "A sheet holds a lesson: take out what is not part of it."
        )
    text, problem = decoded(raw, path)
    if text is not None and not text.strip():
        return None, Problem(path, 1, 1, "the file is empty", "Write the sheet, or delete the file.")
    return text, problem


def decoded(raw: bytes, path: str) -> tuple[str | None, Problem | None]:
    """The text of UTF-8 bytes, or the place at which they first are none; UTF-16 and a byte order mark are called by
    name."""
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")) or 0 in raw[:2]:  # without a mark every second byte is 0
        return None, Problem(path, 1, 1, "the file is saved as UTF-16", "Save it as UTF-8.")
    if raw.startswith(b"\xef\xbb\xbf"):
        return None, Problem(path, 1, 1, "the file begins with a byte order mark", "Save it as UTF-8 without BOM.")
    try:
        return raw.decode("utf-8"), None
    except UnicodeDecodeError as error:
        before = raw[: error.start]
        column = len(before.rsplit(b"\n", 1)[-1].decode("utf-8", "replace")) + 1
        wrong = f"the byte 0x{raw[error.start]:02x} is not UTF-8"
        return None, Problem(path, before.count(b"\n") + 1, column, wrong, "Save the file as UTF-8.")

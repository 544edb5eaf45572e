"""A mail that is ready to leave."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Letter:
    """`id` is its number in the journal; `addresses` those that it still has to reach; `data` the mail, each line ended
    by CRLF; `utf8` tells that one of its addresses can be written in UTF-8 only (RFC 6531)."""

    id: int
    student: str
    lesson: str
    revision: str
    sender: str
    addresses: tuple[str, ...]
    data: bytes
    utf8: bool = False

    @property
    def about(self) -> str:
        """Which mail this is, as the terminal names it."""
        return f"{self.id} {self.student} {self.lesson}"

"""Pages that were taken off the site because of the pictures on them, and why."""

from dataclasses import dataclass
from typing import Literal

Why = Literal["gone", "not known", "no leave", "taken back", "to come", "not shared"]
"""Whose pictures they are is no longer in the academy; has a student.yaml that cannot be read; has given no leave, has
taken it back, or gives it on a day to come; or the two do not both share their pictures."""


@dataclass(frozen=True)
class TakenDown:
    """The pages of `student` show pictures of `whose`, an id too, that may no longer be shown."""

    student: str
    whose: str
    why: Why

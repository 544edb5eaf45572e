"""Where a publish makes what is new, and what one that was killed has left there."""

import shutil
from collections.abc import Mapping
from pathlib import Path
from secrets import token_hex

from reportgen.publishing.replacing import old_place, put_back, undo_beside
from reportgen.publishing.shared_parts import PARTS


def undo_what_was_ended(to: Path, place: Mapping[str, str]) -> None:
    """Put back what a publish that was killed in the middle of a replacement has taken away and not yet replaced, and
    delete what else it left there; `place` are the students' folders below upload/. Raises OSError."""
    homes = {**{name: to / "upload" / area for name, area in place.items()}, **{name: to / name for name in PARTS}}
    for name, home in homes.items():
        if (old := old_place(to, name)).is_dir():
            put_back(old, home)
    undo_beside(homes.values())


def clear_staging(to: Path) -> Path:
    """Delete what is no longer used, and give the name of a folder for what is new.

    The name is another in each run: a worker of a publish that was killed may still be writing into the last one.
    """
    for name in ("new", "old"):
        shutil.rmtree(to / ".made" / name, ignore_errors=True)
    return to / ".made" / "new" / token_hex(4)

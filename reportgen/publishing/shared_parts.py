"""The parts of a site that belong to no student: style and faces, the drill library, the guide."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from reportgen.publishing.digests import combined
from reportgen.publishing.plan import Plan
from reportgen.publishing.replacing import replace_folder, write_tree
from reportgen.publishing.store import Store
from reportgen.publishing.unit import Workshop

if TYPE_CHECKING:
    from reportgen.publishing.sealed_site import Seal

PARTS = ("upload/assets", "desk/assets", "upload/library", "desk/guide")
"""Their folders in the site."""


@dataclass(frozen=True)
class PartsTask:
    """The `parts` to make; the library is sealed where there is a `seal`."""

    parts: tuple[str, ...]
    seal: "Seal | None" = None


def parts_to_make(todo: Plan, to: Path, store: Store, afresh: bool) -> PartsTask | None:
    """The parts that no longer are what they are made from, or are missing; None where all are as they should be."""
    stored, wanted = store.parts(), _wanted(todo)
    parts = tuple(name for name in PARTS if afresh or stored.get(name) != wanted[name] or not (to / name).is_dir())
    return PartsTask(parts, None if todo.seals is None else todo.seals.library) if parts else None


def make_parts(task: PartsTask, workshop: Workshop) -> None:
    """Make parts; their files stand in folders in `workshop.new` afterwards. Raises OSError, ReportgenError."""
    made: dict[str, Mapping[str, bytes]] = {}
    for name in task.parts:
        kind = name.rpartition("/")[2]
        if kind not in made:
            made[kind] = _files(kind, task, workshop)
        write_tree(_made_in(workshop.new, name), made[kind])


def put_parts(parts: Sequence[str], todo: Plan, to: Path, new: Path, store: Store) -> None:
    """Put the parts that were made into their places, each in one step, and note what all are made from.

    The old notes go first, as with a student's. Raises OSError.
    """
    stored, wanted = store.parts(), _wanted(todo)
    if parts:
        store.write_parts({name: digest for name, digest in stored.items() if name not in parts})
    for name in parts:
        replace_folder(_made_in(new, name), to / name, old_place(to, name))
    if parts or stored != stored | wanted:
        store.write_parts(stored | wanted)


def old_place(to: Path, name: str) -> Path:
    """Where a folder waits while its new one is put in its place; a student's id has no underscore."""
    return to / ".made" / "old" / name.replace("/", "_")


def _made_in(new: Path, name: str) -> Path:
    return new / name.replace("/", "_")


def _files(kind: str, task: PartsTask, workshop: Workshop) -> Mapping[str, bytes]:
    academy, library, root = workshop.shared.academy, workshop.shared.library, workshop.shared.root
    if academy is None:
        raise ValueError("the academy has problems")
    if kind == "assets":
        from reportgen.pages.shared_pages import assets

        return assets(academy, root)
    if kind == "guide":
        from reportgen.pages.guide_pages import guide_pages

        return guide_pages(academy, library, root)
    from reportgen.pages.drill_library import library_pages

    pages = library_pages(academy, library, root)
    if task.seal is None:
        return pages
    from reportgen.publishing.sealed_site import sealed_files

    return sealed_files(pages, task.seal)


def _wanted(todo: Plan) -> dict[str, str]:
    """What the notes say where all is as it should be."""
    sealed = todo.base if todo.seals is None else combined(todo.base, todo.seals.library.key.mark)
    return {
        "upload/assets": todo.style, "desk/assets": todo.style, "upload/library": sealed, "desk/guide": todo.base,
        "base": todo.base,
    }  # fmt: skip

"""The parts of a site that belong to no student: style and faces, the drill library, the guide, and pages that say
nothing."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING

from reportgen.publishing.build_plan import BuildPlan
from reportgen.publishing.digests import combined
from reportgen.publishing.replacing import old_place, replace_folder, write_tree
from reportgen.publishing.store import Store
from reportgen.publishing.student_job import BuildContext
from reportgen.rights import PUBLISHED_FILE, close_tree, write_atomically

if TYPE_CHECKING:
    from reportgen.sealing.sealed_site import Seal

PARTS = ("upload/assets", "desk/assets", "upload/library", "desk/guide")
"""Their folders in the site."""

BLANKS = ("upload/index.html", "upload/s/index.html")
"""Pages that say nothing, in folders whose names a host would list otherwise."""


@dataclass(frozen=True)
class PartsJob:
    """The `parts` to make; the library is sealed where there is a `seal`."""

    parts: tuple[str, ...]
    seal: "Seal | None" = None


def areas_in(upload: Path) -> list[Path]:
    """All that lies among the areas of students in a published folder, whatever it is, but for the page that says
    nothing."""
    blanks = {upload.parent / name for name in BLANKS}
    return [entry for entry in sorted((upload / "s").glob("*")) if entry not in blanks]


def parts_to_make(plan: BuildPlan, to: Path, store: Store, afresh: bool) -> PartsJob | None:
    """The parts that no longer are what they are made from, or are missing; None where all are as they should be."""
    stored, wanted = store.parts(), _wanted(plan)
    parts = tuple(name for name in PARTS if afresh or stored.get(name) != wanted[name] or not (to / name).is_dir())
    if afresh or stored.get("blank") != wanted["blank"] or not all((to / name).is_file() for name in BLANKS):
        parts += ("blank",)
    return PartsJob(parts, None if plan.seals is None else plan.seals.library) if parts else None


def make_parts(job: PartsJob, context: BuildContext) -> None:
    """Make parts; their files stand in folders in `context.new` afterwards. Raises OSError, ReportgenError."""
    made: dict[str, Mapping[str, bytes]] = {}
    for name in job.parts:
        kind = name.rpartition("/")[2]
        if kind not in made:
            made[kind] = _files(kind, job, context)
        write_tree(_made_in(context.new, name), made[kind])


def put_parts(parts: Sequence[str], plan: BuildPlan, to: Path, new: Path, store: Store) -> None:
    """Put the parts that were made into their places, each in one step, and note what all are made from.

    The old notes go first, as with a student's. Raises OSError.
    """
    stored, wanted = store.parts(), _wanted(plan)
    if parts:
        store.write_parts({name: digest for name, digest in stored.items() if name not in parts})
    for name in parts:
        if name == "blank":
            _put_blanks(_made_in(new, name), to)
            continue
        if name.startswith("desk/"):
            close_tree(_made_in(new, name))
        replace_folder(_made_in(new, name), to / name, old_place(to, name))
    if parts or stored != stored | wanted:
        store.write_parts(stored | wanted)


def _put_blanks(made: Path, to: Path) -> None:
    for name in BLANKS:
        (to / name).parent.mkdir(parents=True, exist_ok=True)
        write_atomically(to / name, (made / name).read_bytes(), PUBLISHED_FILE)


def _made_in(new: Path, name: str) -> Path:
    return new / name.replace("/", "_")


def _files(kind: str, job: PartsJob, context: BuildContext) -> Mapping[str, bytes]:
    home = context.home
    if kind == "assets":
        from reportgen.pages.shared_pages import assets

        return assets(home)
    if kind == "blank":
        from reportgen.pages.shared_pages import blank_page

        return dict.fromkeys(BLANKS, blank_page(home))
    if kind == "guide":
        from reportgen.pages.guide_pages import guide_pages

        return guide_pages(home)
    from reportgen.pages.drill_library import CARDS, library_cards, library_pages

    pages = {**library_pages(home), CARDS: library_cards(home)}
    if job.seal is None:
        return pages
    from reportgen.sealing.sealed_site import sealed_files

    return sealed_files(pages, job.seal)


def _wanted(plan: BuildPlan) -> dict[str, str]:
    """What the notes say where all is as it should be."""
    sealed = plan.shared_digest
    if plan.seals is not None:
        seal = plan.seals.library
        sealed = combined(plan.shared_digest, seal.key.mark, sha256(seal.keys).hexdigest())
    return {
        "upload/assets": plan.style_digest,
        "desk/assets": plan.style_digest,
        "upload/library": sealed,
        "desk/guide": plan.shared_digest,
        "blank": plan.shared_digest,
        "base": plan.shared_digest,
    }

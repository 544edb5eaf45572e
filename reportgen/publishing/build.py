"""One publish at work: what its plan asks for is made, put in its place and noted; what is gone is taken away."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from reportgen.publishing.build_plan import BuildPlan
from reportgen.publishing.may_publish import CannotPublishError, Tell
from reportgen.publishing.options import PublishOptions
from reportgen.publishing.replacing import old_place, remove, replace_folder
from reportgen.publishing.shared_parts import PartsJob, areas_in, make_parts
from reportgen.publishing.store import Note, Store
from reportgen.publishing.student_job import BuildContext, Made
from reportgen.publishing.taking_down import sheets_digest
from reportgen.sheets.academy_folder import SoundAcademy
from reportgen.sheets.problems import shown

FEW = 8
"""How many students are made in this process; more are made by workers, who are replaced from time to time."""

Progress = Callable[[int, int], None]
"""Called with lessons done and lessons to do."""
Shared = Callable[[], tuple[SoundAcademy, Mapping[str, Path]]]
"""Gives the academy with what all students share, and their folders."""


@dataclass(frozen=True)
class Build:
    """What a publish has to do, the folder `to` that it publishes into with the `store` of its notes, and the folder
    for what is `new`."""

    plan: BuildPlan
    to: Path
    store: Store
    new: Path


def made(
    build: Build, parts: PartsJob | None, shared: Shared, options: PublishOptions, progress: Progress
) -> Iterator[Made]:
    """The students of the plan as they are made, here or by others. Shared parts are a job among theirs where workers
    make them, and otherwise made here at last."""
    plan = build.plan
    if not (plan.student_jobs or parts):
        return
    context = BuildContext(*shared(), build.new, build.store.lesson_caches, plan.layout_digest, plan.program_digest)
    for job in plan.student_jobs:
        if job.student not in context.folders:
            raise CannotPublishError(f"students/{shown(job.student)} was taken away just now. Publish once more.")
    by_workers = options.cluster is None and len(plan.student_jobs) > (FEW if options.jobs == 1 else 1)
    total, so_far = sum(plan.lessons.get(job.student, 0) for job in plan.student_jobs if not job.only_read), 0
    if plan.student_jobs:
        progress(0, total)
    for one in _students(plan, parts if by_workers else None, context, options, by_workers=by_workers):
        yield one
        so_far += plan.lessons.get(one.student, 0) if one.pages else 0
        progress(so_far, total)
    if parts and not by_workers:
        make_parts(parts, context)


def _students(
    plan: BuildPlan, parts: PartsJob | None, context: BuildContext, options: PublishOptions, *, by_workers: bool
) -> Iterator[Made]:
    from reportgen.publishing.workers import made_by_workers, made_here

    if by_workers:
        return made_by_workers([*([parts] if parts else ()), *plan.student_jobs], context, options.jobs)
    if options.cluster is not None and plan.student_jobs:
        from reportgen.publishing.cluster import made_on_cluster

        return made_on_cluster(plan.student_jobs, context, options.cluster)
    return made_here(plan.student_jobs, context)


def put(one: Made, build: Build, *, noted: bool) -> None:
    """Put a student's new area in its place, and note what it was made from where that is to be `noted`. Raises
    OSError.

    The old note goes first: who is killed in between must not find new pages under a note that speaks of the old ones,
    for the sheet may be as it was before by then.
    """
    plan, store = build.plan, build.store
    place = plan.place[one.student]
    if one.pages:
        store.drop_note(one.student)
        replace_folder(build.new / one.student, build.to / "upload" / place, old_place(build.to, one.student))
    elif not one.problems:
        store.lesson_cache(one.student).unlink(missing_ok=True)  # there is no page for which it would be kept
    if noted and not one.problems:
        inputs, sheets = plan.inputs(one.student, one.leans_on), sheets_digest(one.student, one.leans_on, plan.sheets)
        note = Note(inputs, sheets, place, one.pages, one.leans_on, one.shows if one.pages else (), one.desk)
        store.write_note(one.student, note)


def take_down_unknown(build: Build, done: Mapping[str, Made], tell: Tell) -> None:
    """Take away the kept pages of whom nothing is noted: nobody knows what pictures they show. Raises OSError."""
    blocked = [name for name, one in done.items() if one.problems]
    noted = build.store.notes() if blocked else {}
    for name in blocked:
        area = build.to / "upload" / build.plan.place[name]
        if name not in noted and area.exists():
            remove(area, old_place(build.to, area.name))
            build.store.lesson_cache(name).unlink(missing_ok=True)
            tell(f"Taken down: {name}, whose sheets have problems, and of whose pages no note is left.")


def remove_gone(build: Build, done: Mapping[str, Made], *, all_made: bool) -> int:
    """Take away the areas of students who are no longer in the academy and, where `all_made` says that everybody was
    looked at, of those whose lessons all are gone. Returns of how many that was; an area of somebody who has another
    place now is none of theirs. Raises OSError."""
    plan, store = build.plan, build.store
    stay = {plan.place[name] for name, note in plan.notes.items() if note.pages}
    stay |= {plan.place[name] for name, one in done.items() if one.pages or one.problems}
    if not all_made:
        stay = set(plan.place.values())
    gone = [area for area in areas_in(build.to / "upload") if f"s/{area.name}" not in stay]
    for area in gone:
        remove(area, old_place(build.to, area.name))
    left = [name for name in store.students() if name not in plan.place]
    for name in left:
        store.forget(name)
    return min(len(gone), len(left) + sum(not one.pages and not one.problems for one in done.values()))

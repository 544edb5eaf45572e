"""Several processes at once: the same pages, and none is lost with its worker."""

import os
import signal
import threading
from collections.abc import Iterator
from dataclasses import replace
from multiprocessing import active_children
from pathlib import Path

import pytest

from reportgen.publishing import workers
from reportgen.publishing.options import PublishOptions
from reportgen.publishing.publish import publish
from reportgen.publishing.shared_parts import PARTS, PartsJob
from reportgen.publishing.student_job import BuildContext, Made, StudentJob
from reportgen.publishing.workers import WorkerLostError, made_by_workers
from reportgen.sheets.academy_folder import load_shared, sound
from tests.publishing.conftest import Small
from tests.publishing.small import BETTINA, PETRA, break_sheet, contents


@pytest.fixture
def context(small: Small, tmp_path: Path) -> BuildContext:
    return _context(small, tmp_path / "new")


def _context(small: Small, new: Path) -> BuildContext:
    shared, folders = load_shared(small.academy)
    return BuildContext(sound(shared), folders, new, None, "", "")


def _children() -> list[int]:
    listed = Path(f"/proc/{os.getpid()}/task/{os.getpid()}/children").read_text(encoding="utf-8")
    return [int(child) for child in listed.split()]


def test_two_workers_make_what_one_makes(small: Small) -> None:
    before = contents(small.site)
    publish(small.academy, small.site, PublishOptions(jobs=2, afresh=True))
    assert contents(small.site) == before


def test_with_workers_the_shared_parts_are_theirs_to_make_too(small: Small, monkeypatch: pytest.MonkeyPatch) -> None:
    before = contents(small.site)
    monkeypatch.setattr("reportgen.publishing.build.make_parts", None)
    publish(small.academy, small.site, PublishOptions(jobs=2, afresh=True))
    assert contents(small.site) == before


def test_of_the_jobs_of_workers_only_students_are_told_of(context: BuildContext) -> None:
    (one,) = made_by_workers([PartsJob(PARTS), StudentJob(PETRA)], context, 2)
    assert one.student == PETRA
    assert (context.new / "upload_library" / "index.html").is_file()
    assert (context.new / "desk_assets" / "style.css").is_file()


def test_a_worker_that_is_killed_is_replaced_and_loses_nothing(context: BuildContext) -> None:
    """One is killed as soon as both are at work."""
    before = set(_children())

    def kill_one() -> None:
        while len(started := sorted(set(_children()) - before)) < 2:
            os.sched_yield()
        os.kill(started[-1], signal.SIGKILL)

    killer = threading.Thread(target=kill_one)
    killer.start()
    made = {one.student: one for one in made_by_workers([StudentJob(BETTINA), StudentJob(PETRA)], context, 2)}
    killer.join()
    assert set(made) == {BETTINA, PETRA}
    assert all(one.pages and (context.new / name / "index.html").is_file() for name, one in made.items())


def test_a_worker_is_replaced_after_so_many_lessons(small: Small, monkeypatch: pytest.MonkeyPatch) -> None:
    hired: list[int | None] = []
    real = workers._Worker.hired

    def watched() -> workers._Worker:
        found = real()
        hired.append(found.process.pid)
        return found

    monkeypatch.setattr(workers._Worker, "hired", watched)
    monkeypatch.setattr(workers, "RETIRES_AFTER", 1)
    context = _context(small, small.site.parent / "new")
    made = list(made_by_workers([StudentJob(PETRA), StudentJob(BETTINA)], context, 1))
    assert [one.student for one in made] == [PETRA, BETTINA]
    assert len(set(hired)) == 2
    assert active_children() == []


def test_more_than_a_few_students_are_made_by_a_worker(small: Small, monkeypatch: pytest.MonkeyPatch) -> None:
    before = contents(small.site)
    monkeypatch.setattr("reportgen.publishing.build.FEW", 1)
    monkeypatch.setattr("reportgen.publishing.workers.made_here", None)
    publish(small.academy, small.site, PublishOptions(afresh=True))
    assert contents(small.site) == before


def test_a_student_over_whom_workers_die_again_and_again_has_a_problem(
    context: BuildContext, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workers, "_work", _dies)
    (made,) = made_by_workers([StudentJob(PETRA)], context, 1)
    assert not made.pages
    assert [str(problem) for problem in made.problems] == [
        f"students/{PETRA}:1:1: 3 workers were lost over these pages, and nobody knows why. "
        "Is there memory enough? Try --jobs 1."
    ]
    assert active_children() == []


def test_a_library_over_which_workers_die_again_and_again_ends_the_publish(
    context: BuildContext, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workers, "_work", _dies)
    with pytest.raises(WorkerLostError, match="3 workers were lost over the drill library"):
        list(made_by_workers([PartsJob(PARTS), StudentJob(PETRA)], context, 1))


def _dies(*_: object) -> None:
    os._exit(9)


def test_what_goes_wrong_in_a_worker_is_raised_here(context: BuildContext) -> None:
    gone = replace(context, new=Path("/proc/nothing/can/be/written/here"))
    with pytest.raises(OSError, match="nothing"):
        list(made_by_workers([StudentJob(PETRA), StudentJob(BETTINA)], gone, 2))
    assert active_children() == []


def test_problems_come_back_from_a_worker(small: Small, context: BuildContext) -> None:
    break_sheet(small.academy, PETRA)
    found: Iterator[Made] = made_by_workers([StudentJob(PETRA)], context, 1)
    (one,) = found
    assert not one.pages
    assert [problem.path.split("/")[1] for problem in one.problems] == [PETRA]

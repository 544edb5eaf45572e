"""Several processes at once: the same pages, and none is lost with its worker."""

import os
import signal
import threading
from collections.abc import Iterator
from multiprocessing import active_children
from pathlib import Path

import pytest

from reportgen.publishing import workers
from reportgen.publishing.publish import publish
from reportgen.publishing.shared_parts import PARTS, PartsTask
from reportgen.publishing.unit import Made, Task, Workshop
from reportgen.publishing.workers import WorkerLostError, made_by_workers
from reportgen.sheets.academy_folder import load_shared
from tests.publishing.conftest import Small
from tests.publishing.small import BETTINA, PETRA, break_sheet, contents


@pytest.fixture
def workshop(small: Small, tmp_path: Path) -> Workshop:
    return Workshop(*load_shared(small.academy), tmp_path / "new", None, "", "")


def _children() -> list[int]:
    listed = Path(f"/proc/{os.getpid()}/task/{os.getpid()}/children").read_text(encoding="utf-8")
    return [int(child) for child in listed.split()]


def test_two_workers_make_what_one_makes(small: Small) -> None:
    before = contents(small.site)
    publish(small.academy, small.site, jobs=2, afresh=True)
    assert contents(small.site) == before


def test_with_workers_the_shared_parts_are_theirs_to_make_too(small: Small, monkeypatch: pytest.MonkeyPatch) -> None:
    before = contents(small.site)
    monkeypatch.setattr("reportgen.publishing.publish.make_parts", None)
    publish(small.academy, small.site, jobs=2, afresh=True)
    assert contents(small.site) == before


def test_of_the_units_of_workers_only_students_are_told_of(workshop: Workshop) -> None:
    (one,) = made_by_workers([PartsTask(PARTS), Task(PETRA)], workshop, 2)
    assert one.student == PETRA
    assert (workshop.new / "upload_library" / "index.html").is_file()
    assert (workshop.new / "desk_assets" / "style.css").is_file()


def test_a_worker_that_is_killed_is_replaced_and_loses_nothing(workshop: Workshop) -> None:
    """One is killed as soon as both are at work."""
    before = set(_children())

    def kill_one() -> None:
        while len(started := sorted(set(_children()) - before)) < 2:
            os.sched_yield()
        os.kill(started[-1], signal.SIGKILL)

    killer = threading.Thread(target=kill_one)
    killer.start()
    made = {one.student: one for one in made_by_workers([Task(BETTINA), Task(PETRA)], workshop, 2)}
    killer.join()
    assert set(made) == {BETTINA, PETRA}
    assert all(one.pages and (workshop.new / name / "index.html").is_file() for name, one in made.items())


def test_a_worker_is_replaced_after_so_many_lessons(small: Small, monkeypatch: pytest.MonkeyPatch) -> None:
    hired: list[int | None] = []
    real = workers._Worker.hired

    def watched() -> workers._Worker:
        found = real()
        hired.append(found.process.pid)
        return found

    monkeypatch.setattr(workers._Worker, "hired", watched)
    monkeypatch.setattr(workers, "RETIRES_AFTER", 1)
    workshop = Workshop(*load_shared(small.academy), small.site.parent / "new", None, "", "")
    made = list(made_by_workers([Task(PETRA), Task(BETTINA)], workshop, 1))
    assert [one.student for one in made] == [PETRA, BETTINA]
    assert len(set(hired)) == 2
    assert active_children() == []


def test_more_than_a_few_students_are_made_by_a_worker(small: Small, monkeypatch: pytest.MonkeyPatch) -> None:
    before = contents(small.site)
    monkeypatch.setattr("reportgen.publishing.publish.FEW", 1)
    monkeypatch.setattr("reportgen.publishing.workers.made_here", None)
    publish(small.academy, small.site, afresh=True)
    assert contents(small.site) == before


def test_a_student_over_whom_workers_die_again_and_again_ends_the_publish(
    workshop: Workshop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workers, "_work", _dies)
    with pytest.raises(WorkerLostError, match="3 workers were lost over petra-lumsgate"):
        list(made_by_workers([Task(PETRA)], workshop, 1))
    assert active_children() == []


def test_a_library_over_which_workers_die_again_and_again_ends_the_publish(
    workshop: Workshop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workers, "_work", _dies)
    with pytest.raises(WorkerLostError, match="3 workers were lost over the drill library"):
        list(made_by_workers([PartsTask(PARTS), Task(PETRA)], workshop, 1))


def _dies(*_: object) -> None:
    os._exit(9)


def test_what_goes_wrong_in_a_worker_is_raised_here(workshop: Workshop) -> None:
    gone = Workshop(workshop.shared, workshop.folders, Path("/proc/nothing/can/be/written/here"), None, "", "")
    with pytest.raises(OSError, match="nothing"):
        list(made_by_workers([Task(PETRA), Task(BETTINA)], gone, 2))
    assert active_children() == []


def test_problems_come_back_from_a_worker(small: Small, workshop: Workshop) -> None:
    break_sheet(small.academy, PETRA)
    found: Iterator[Made] = made_by_workers([Task(PETRA)], workshop, 1)
    (one,) = found
    assert not one.pages
    assert [problem.path.split("/")[1] for problem in one.problems] == [PETRA]

"""Whatever goes wrong with one student is a problem of that student: the others are published."""

import os
import shutil
from collections.abc import Callable

import pytest

from reportgen.publishing import student_job
from tests.publishing.conftest import Small
from tests.publishing.small import BETTINA, PETRA, area_of, change_sheet, contents, reportgen


def _of_petra_alone(does: Callable[..., object]) -> Callable[..., object]:
    """What `read_students` does, but for Petra something else."""
    real = student_job.read_students

    def read(home: object, folders: object, names: list[str]) -> object:
        return does() if PETRA in names else real(home, folders, names)  # type: ignore[arg-type]

    return read


def _falls_into_a_bug() -> None:
    raise KeyError("a metric that nobody knows")


def test_an_error_that_nobody_thought_of_holds_up_one_student(small: Small, monkeypatch: pytest.MonkeyPatch) -> None:
    change_sheet(small.academy, PETRA)
    change_sheet(small.academy, BETTINA)
    before = contents(area_of(small.site, "Petra"))
    monkeypatch.setattr(student_job, "read_students", _of_petra_alone(_falls_into_a_bug))
    published = reportgen("publish", small.academy, "--to", small.site)
    assert published.exit_code == 1
    wrong = "the pages could not be made (KeyError: 'a metric that nobody knows', test_one_students_fault.py:"
    assert published.stderr.startswith(f"students/{PETRA}:1:1: {wrong}")
    assert "Please report this line: it is a bug." in published.stderr
    assert contents(area_of(small.site, "Petra")) == before
    assert "A new focus" in (area_of(small.site, "Bettina") / "index.html").read_text(encoding="utf-8")
    assert "KeyError" in (small.site / "desk" / "index.html").read_text(encoding="utf-8")


def test_a_folder_that_goes_away_while_it_is_read_holds_up_its_student(
    small: Small, monkeypatch: pytest.MonkeyPatch
) -> None:
    change_sheet(small.academy, PETRA)
    change_sheet(small.academy, BETTINA)
    folder = small.academy / "students" / PETRA

    def goes_away() -> object:
        shutil.move(folder, small.academy.parent / "renamed")
        return os.listdir(folder)

    monkeypatch.setattr(student_job, "read_students", _of_petra_alone(goes_away))
    published = reportgen("publish", small.academy, "--to", small.site)
    assert published.exit_code == 1
    assert (
        f"students/{PETRA}:1:1: students/{PETRA} was taken away while it was read. Publish again." in published.stderr
    )
    assert "A new focus" in (area_of(small.site, "Bettina") / "index.html").read_text(encoding="utf-8")


def test_what_the_machine_has_not_enough_of_ends_the_run(small: Small, monkeypatch: pytest.MonkeyPatch) -> None:
    def runs_out() -> object:
        raise OSError(28, "No space left on device", str(small.site / ".made" / "new"))

    change_sheet(small.academy, PETRA)
    before = contents(small.site / "upload")
    monkeypatch.setattr(student_job, "read_students", _of_petra_alone(runs_out))
    published = reportgen("publish", small.academy, "--to", small.site)
    assert published.exit_code == 2
    assert "No space left on device. What was published before is intact." in published.stderr
    assert contents(small.site / "upload") == before


@pytest.mark.parametrize("name", ["lessons/2026-11-24.yaml", "student.yaml"])
def test_a_file_that_is_a_link_to_nothing_holds_up_its_student(small: Small, name: str) -> None:
    change_sheet(small.academy, BETTINA)
    file = small.academy / "students" / PETRA / name
    file.unlink()
    file.symlink_to("nowhere")
    published = reportgen("publish", small.academy, "--to", small.site)
    assert published.exit_code == 1, published.output
    assert published.stderr.startswith(f"students/{PETRA}/{name}:1:1: ")
    assert "A new focus" in (area_of(small.site, "Bettina") / "index.html").read_text(encoding="utf-8")

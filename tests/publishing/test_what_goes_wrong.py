"""A disk that is full, a place that cannot be written, a source that goes away: told in a line, the old site intact."""

import errno
import os
import resource
import shutil
import signal
from pathlib import Path

import pytest
from PIL import Image

from reportgen.publishing.may_publish import CannotPublishError
from reportgen.publishing.options import PublishOptions
from reportgen.publishing.publish import Reporting, publish
from tests.publishing.conftest import Small
from tests.publishing.small import BETTINA, PETRA, area_of, change_sheet, contents, reportgen, sheets


def _with_files_of_at_most(size: int, academy: Path, site: Path, jobs: int) -> str:
    """Publish in a process that cannot write more into a file, as on a disk without room: what it said."""
    ours, theirs = os.pipe()
    child = os.fork()
    if child == 0:
        said = "nothing"
        try:
            signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
            resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))
            publish(academy, site, PublishOptions(jobs=jobs))
        except CannotPublishError as error:
            said = str(error)
        finally:
            os.write(theirs, said.encode())
            os._exit(0)
    os.close(theirs)
    with os.fdopen(ours) as told:
        said = told.read()
    os.waitpid(child, 0)
    return said


@pytest.mark.parametrize("jobs", [1, 2])
@pytest.mark.parametrize("size", [3_000, 30_000])
def test_no_room_on_the_disk(small: Small, size: int, jobs: int) -> None:
    before = contents(small.site)
    change_sheet(small.academy, PETRA)
    change_sheet(small.academy, BETTINA)
    said = _with_files_of_at_most(size, small.academy, small.site, jobs)
    assert said.endswith(f"{os.strerror(errno.EFBIG)}. What was published before is intact.")
    assert contents(small.site) == before
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 0


def test_a_picture_that_cannot_be_unpacked_holds_up_only_its_student(small: Small) -> None:
    """From outside it looks whole: its tables are what is wrong."""
    still = small.academy / "students" / PETRA / "stills" / "garbled.jpg"
    still.parent.mkdir(exist_ok=True)
    Image.linear_gradient("L").save(still)
    jpeg = bytearray(still.read_bytes())
    table = jpeg.index(b"\xff\xc4") + 5
    jpeg[table : table + 16] = b"\xff" * 16
    still.write_bytes(jpeg)
    with sheets(small.academy, PETRA)[-1].open("a", encoding="utf-8") as sheet:
        sheet.write("stills: [{file: ../stills/garbled.jpg, view: face-on, checkpoint: impact}]\n")
    change_sheet(small.academy, BETTINA)
    before = contents(area_of(small.site, "Petra"))

    result = reportgen("publish", small.academy, "--to", small.site)

    assert result.exit_code == 1
    name = f"students/{PETRA}/stills/garbled.jpg"
    assert result.stderr.startswith(f"{name}:1:1: the picture is broken. Save it again.\n")
    assert contents(area_of(small.site, "Petra")) == before
    assert "A new focus" in (area_of(small.site, "Bettina") / "index.html").read_text(encoding="utf-8")
    assert name in (small.site / "desk" / "index.html").read_text(encoding="utf-8")


def test_a_target_that_cannot_be_written(small: Small) -> None:
    result = reportgen("publish", small.academy, "--to", "/proc/site")
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.startswith("/proc/site")
    assert result.stderr.endswith("What was published before is intact.\n")


def test_a_student_whose_folder_goes_away_meanwhile(small: Small) -> None:
    """The sheets were looked at, and are gone when they are read."""
    before = contents(small.site / "upload")
    change_sheet(small.academy, PETRA)
    told: list[str] = []

    def go_away(done: int, of: int) -> None:
        shutil.rmtree(small.academy / "students" / PETRA, ignore_errors=True)

    done = publish(small.academy, small.site, reporting=Reporting(lambda problem: told.append(str(problem)), go_away))
    assert done.blocked == (PETRA,)
    assert "student.yaml is missing" in told[0]
    assert contents(small.site / "upload") == before


def test_an_academy_that_is_not_there_makes_no_folder(tmp_path: Path) -> None:
    result = reportgen("publish", tmp_path / "nowhere", "--to", tmp_path / "site")
    assert result.exit_code == 2
    assert not (tmp_path / "site").exists()


def test_the_kept_notes_name_no_path_of_this_machine(small: Small) -> None:
    """A site may be copied to another machine with all that is kept."""
    for file in (small.site / ".made").rglob("*.json"):
        assert str(small.academy).encode() not in file.read_bytes()

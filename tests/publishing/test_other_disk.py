"""A site whose folder to upload lies on another disk: a stick, or a folder that a host mounts."""

import shutil
import tempfile
from collections.abc import Iterator
from functools import partial
from itertools import count
from pathlib import Path

import pytest

from reportgen.publishing import replacing
from reportgen.publishing.publish import publish
from reportgen.publishing.replacing import old_place, remove, replace_folder, write_tree
from reportgen.publishing.staging import undo_what_was_ended
from tests.publishing.conftest import Small
from tests.publishing.killing import killed_after
from tests.publishing.small import BETTINA, PETRA, area_of, areas, break_sheet, change_sheet, contents, reportgen

OLD = {"index.html": b"old", "gone.html": b"old"}
NEW = {"index.html": b"new", "deep/er.html": b"new"}


@pytest.fixture
def other_disk() -> Iterator[Path]:
    """A folder on a disk in memory, which every Linux has."""
    with tempfile.TemporaryDirectory(dir="/dev/shm") as folder:
        yield Path(folder)


@pytest.fixture
def elsewhere(small: Small, other_disk: Path) -> Path:
    """The folder to upload, moved to another disk, with a link in its place."""
    assert other_disk.stat().st_dev != small.site.stat().st_dev
    shutil.move(small.site / "upload", other_disk / "upload")
    (small.site / "upload").symlink_to(other_disk / "upload")
    return other_disk / "upload"


@pytest.fixture(params=["one step", "two steps"])
def _steps(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    if request.param == "two steps":
        monkeypatch.setattr(replacing, "_libc", lambda: None)


def _names(upload: Path) -> set[str]:
    return {path.relative_to(upload).as_posix() for path in upload.rglob("*")}


def test_pages_are_replaced_there_and_nothing_is_left_beside_them(small: Small, elsewhere: Path) -> None:
    before = _names(elsewhere)
    for words in ("Once", "Once more"):
        change_sheet(small.academy, PETRA, words)
        assert reportgen("publish", small.academy, "--to", small.site).exit_code == 0
        assert words in (area_of(small.site, "Petra") / "index.html").read_text(encoding="utf-8")
    assert _names(elsewhere) == before


def test_everything_is_made_there_afresh(small: Small, elsewhere: Path, tmp_path: Path) -> None:
    assert reportgen("publish", small.academy, "--to", small.site, "--afresh").exit_code == 0
    assert reportgen("publish", small.academy, "--to", tmp_path / "other").exit_code == 0
    assert contents(elsewhere) == contents(tmp_path / "other" / "upload")


def test_who_is_gone_is_taken_away_there(small: Small, elsewhere: Path) -> None:
    shutil.rmtree(small.academy / "students" / BETTINA)
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 0
    assert areas(small.site) == [area_of(small.site, "Petra")]


# killed in the middle


def _site(to: Path, other_disk: Path) -> Path:
    """A site with the folder of one student, p, on the other disk; gives that folder."""
    upload = other_disk / to.name
    write_tree(upload / "s" / "token", OLD)
    to.mkdir()
    (to / "upload").symlink_to(upload)
    return to / "upload" / "s" / "token"


@pytest.mark.usefixtures("_steps")
def test_a_replacement_that_was_killed_at_any_step_leaves_the_old_or_the_new_folder(
    tmp_path: Path, other_disk: Path
) -> None:
    seen = []
    for step in count():
        to = tmp_path / str(step)
        place, new = _site(to, other_disk), to / ".made" / "new" / "p"
        write_tree(new, NEW)
        killed = killed_after(step, lambda new=new, place=place, to=to: replace_folder(new, place, old_place(to, "p")))
        undo_what_was_ended(to, {"p": "s/token"})
        seen.append(contents(place))
        assert {path.name for path in place.parent.iterdir()} == {"token"}, step
        if not killed:
            break
    turned = seen.index(NEW)
    assert 0 < turned < len(seen) - 1
    assert seen == [OLD] * turned + [NEW] * (len(seen) - turned)


def test_what_was_being_taken_away_when_it_was_killed_never_comes_back(tmp_path: Path, other_disk: Path) -> None:
    seen = []
    for step in count():
        to = tmp_path / str(step)
        place = _site(to, other_disk)
        killed = killed_after(step, lambda place=place, to=to: remove(place, old_place(to, "token")))
        undo_what_was_ended(to, {"p": "s/token"})
        seen.append(contents(place))
        assert {path.name for path in place.parent.iterdir()} <= {"token"}, step
        if not killed:
            break
    turned = seen.index({})
    assert 0 < turned < len(seen) - 1
    assert seen == [OLD] * turned + [{}] * (len(seen) - turned)


@pytest.mark.parametrize("upload", ["beside", "elsewhere"])
def test_whatever_a_publish_was_killed_at_the_next_one_finds_whole_pages(
    small: Small, upload: str, request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Killed before it takes the old pages away, before it puts the new ones there, and not at all; the next is asked
    for somebody else's pages alone."""
    if upload == "elsewhere":
        request.getfixturevalue("elsewhere")
    monkeypatch.setattr(replacing, "_libc", lambda: None)
    place, names = small.site / "upload", _names(small.site / "upload")
    area = area_of(small.site, "Petra")
    killed = []
    while not killed or killed[-1]:
        words = f"Focus {len(killed)}"
        change_sheet(small.academy, PETRA, words)
        work = partial(publish, small.academy, small.site)
        killed.append(killed_after(len(killed), work, ["os.rename"], below=place))
        assert reportgen("publish", small.academy, "--to", small.site, "--student", BETTINA).exit_code == 0
        assert _names(place) == names
        assert words in (area / "index.html").read_text(encoding="utf-8")
    assert killed == [True, True, False]


def test_what_a_killed_publish_left_beside_goes_even_where_nothing_is_made_again(small: Small, elsewhere: Path) -> None:
    before = _names(elsewhere)
    for place in (area_of(small.site, "Petra"), elsewhere / "library"):
        for what in ("new", "old", "gone"):
            write_tree(place.with_name(f".{place.name}.{what}"), OLD)
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 0
    assert _names(elsewhere) == before


def test_the_last_good_pages_come_back_even_where_the_sheet_has_broken_in_between(
    small: Small, elsewhere: Path
) -> None:
    before, petra = contents(elsewhere), area_of(small.site, "Petra")
    petra.rename(petra.with_name(f".{petra.name}.old"))
    break_sheet(small.academy, PETRA)
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 1
    assert contents(elsewhere) == before


def test_whose_pages_were_taken_aside_and_who_goes_then_is_found_and_forgotten(small: Small, elsewhere: Path) -> None:
    petra = area_of(small.site, "Petra")
    petra.rename(petra.with_name(f".{petra.name}.old"))
    shutil.rmtree(small.academy / "students" / PETRA)
    (small.site / ".made" / "students" / f"{PETRA}.json").unlink()
    assert reportgen("forget", small.academy, PETRA, "--to", small.site).exit_code == 0
    assert [path.name for path in areas(small.site)] == [area_of(small.site, "Bettina").name]

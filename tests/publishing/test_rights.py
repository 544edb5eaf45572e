"""What stays on the instructor's machine is readable by its owner alone, where the system knows such rights."""

import stat
from collections.abc import Iterable
from pathlib import Path

import pytest

from reportgen.sealing.privacy import keyring_of
from tests.publishing.conftest import Small
from tests.publishing.small import BETTINA, PETRA, change_sheet, reportgen

MINE = "seven herons at low tide"


def open_ones(*places: Path) -> list[str]:
    """What of some files and folders, and all below them, can be read or looked into by others."""
    return [str(path) for path in _all(places) if stat.S_IMODE(path.stat().st_mode) & 0o077]


def _all(places: Iterable[Path]) -> list[Path]:
    return [path for place in places for path in (place, *place.rglob("*"))]


def laid_open(*places: Path) -> None:
    """Give some places the rights that an earlier program gave them."""
    for path in _all(places):
        path.chmod(0o755 if path.is_dir() else 0o644)


def test_desk_and_notes_are_closed_and_what_goes_online_is_as_it_was(small: Small) -> None:
    assert reportgen("season", small.academy, "--to", small.site).exit_code == 0
    assert open_ones(small.site / "desk", small.site / ".made") == []
    assert (small.site / "upload").stat().st_mode & 0o055 == 0o055
    assert {stat.S_IMODE(page.stat().st_mode) for page in (small.site / "upload").rglob("*.html")} == {0o644}


def test_what_an_earlier_program_left_open_is_closed_by_the_next_publish(small: Small) -> None:
    laid_open(small.site)
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 0
    assert open_ones(small.site / "desk", small.site / ".made") == []


def test_what_is_made_again_is_closed_too(small: Small) -> None:
    change_sheet(small.academy, PETRA)
    assert reportgen("publish", small.academy, "--to", small.site, "--afresh").exit_code == 0
    assert open_ones(small.site / "desk", small.site / ".made") == []


def test_the_outbox_and_the_journal_are_closed(small: Small) -> None:
    assert reportgen("send", small.academy, "--student", BETTINA).exit_code == 0
    outbox, journal = small.academy.with_name("academy.outbox"), small.academy.with_name("academy.journal.sqlite")
    lock = journal.with_name(f"{journal.name}-lock")
    assert len(list(outbox.iterdir())) == 1
    assert open_ones(outbox, journal, lock) == []
    laid_open(outbox, journal, lock)
    assert reportgen("send", small.academy, "--student", BETTINA).stdout == "Nothing to send.\n"
    assert open_ones(outbox, journal, lock) == []


def test_a_folder_of_the_instructors_own_keeps_its_rights(small: Small, tmp_path: Path) -> None:
    own = tmp_path / "mails"
    own.mkdir()
    (own / "other.txt").write_text("mine", encoding="utf-8")
    laid_open(own)
    assert reportgen("send", small.academy, "--to-outbox", own, "--student", PETRA).exit_code == 0
    (mail,) = own.glob("*.eml")
    assert open_ones(own) == [str(own), str(own / "other.txt")]
    assert open_ones(mail) == []


def test_recaps_letters_and_the_keyring_are_closed(
    small: Small, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("REPORTGEN_PASSPHRASE", MINE)
    recap = tmp_path / "recap.pdf"
    recap.touch(0o644)
    assert reportgen("recap", small.academy, PETRA, "--to", recap).exit_code == 0
    assert reportgen("members", "add", small.academy, PETRA).exit_code == 0
    keyring = keyring_of(small.academy)
    assert open_ones(recap, keyring) == []
    laid_open(keyring)
    assert reportgen("members", "list", small.academy).exit_code == 0
    assert open_ones(keyring) == []

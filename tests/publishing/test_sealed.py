"""A sealed publish: who can read what, what is written again, and that nothing once sealed is laid open."""

import re
import shutil
from collections.abc import Mapping
from email import message_from_bytes
from email.policy import default
from pathlib import Path
from typing import NamedTuple

import pytest

from reportgen.records.academy import Academy
from reportgen.sealing.keyring import read_keyring
from reportgen.sealing.privacy import keyring_of, mark_beside
from reportgen.sealing.sealed_site import place_of
from reportgen.sheets.reading import read_sheet
from tests.publishing.opening import DoesNotOpenError, Opened, open_area, open_library_from
from tests.publishing.small import (
    BETTINA,
    PETRA,
    break_sheet,
    change_sheet,
    contents,
    copy_with_keyring,
    link_only,
    reportgen,
    say_in,
    sheets,
    small_academy,
    times,
)

MINE = "seven herons at low tide"
GIL = "guest-gil"


class Sealed(NamedTuple):
    academy: Path
    site: Path

    @property
    def upload(self) -> Path:
        return self.site / "upload"

    @property
    def passphrases(self) -> Mapping[str, str]:
        return {name: m.passphrase for name, m in read_keyring(keyring_of(self.academy), MINE).members.items()}

    def area(self, student: str) -> str:
        sheet, _ = read_sheet(self.academy / "academy.yaml", "academy.yaml", Academy)
        assert sheet is not None
        return place_of(student, sheet.record)

    def opened(self, student: str, passphrase: str | None = None) -> Opened:
        return open_area(self.upload, self.area(student), passphrase or self.passphrases[student])

    def publish(self, *more: str) -> str:
        result = reportgen("publish", self.academy, "--to", self.site, *more)
        assert result.exit_code in (0, 1), result.stderr
        return result.stdout + result.stderr


@pytest.fixture(scope="module")
def _published(tmp_path_factory: pytest.TempPathFactory) -> Sealed:
    folder = tmp_path_factory.mktemp("sealed")
    made = Sealed(small_academy(folder / "academy", PETRA, BETTINA, lessons=1), folder / "site")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("REPORTGEN_PASSPHRASE", MINE)
        assert reportgen("members", "add", made.academy, "--all").exit_code == 0
        assert reportgen("members", "add", made.academy, GIL, "--library-only").exit_code == 0
        assert made.publish() == f"2 students made, 0 unchanged: {made.site}\n"
    return made


@pytest.fixture
def sealed(_published: Sealed, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Sealed:
    """Petra and Bettina with own pages, Gil with the library, published."""
    own = _copy(_published, tmp_path)
    monkeypatch.setenv("REPORTGEN_PASSPHRASE", MINE)
    return own


def _copy(published: Sealed, folder: Path) -> Sealed:
    own = Sealed(folder / "academy", folder / "site")
    copy_with_keyring(published.academy, own.academy)
    shutil.copytree(published.site, own.site)
    return own


def test_each_reads_their_own_pages_and_the_library(sealed: Sealed) -> None:
    for student, name in ((PETRA, b"Petra"), (BETTINA, b"Bettina")):
        opened = sealed.opened(student)
        assert name in opened.files("")["index.html"]
        lesson = sheets(sealed.academy, student)[-1].stem
        assert opened.files(lesson)["recap.pdf"].startswith(b"%PDF")
        assert b"Drill library" in open_library_from(opened).files("")["index.html"]
        library = open_area(sealed.upload, "library", sealed.passphrases[student])
        assert b"Drill library" in library.files("")["index.html"]
    guest = open_area(sealed.upload, "library", sealed.passphrases[GIL])
    assert guest.files("")["cards.pdf"].startswith(b"%PDF")


def test_nobody_reads_the_pages_of_another(sealed: Sealed) -> None:
    for reader, owner in ((PETRA, BETTINA), (BETTINA, PETRA), (GIL, PETRA)):
        with pytest.raises(DoesNotOpenError):
            sealed.opened(owner, sealed.passphrases[reader])


def test_sealed_and_open_pages_are_the_same(sealed: Sealed, tmp_path: Path) -> None:
    opened = sealed.opened(PETRA)
    _lose(sealed, keyring_of(sealed.academy), mark_beside(keyring_of(sealed.academy)))
    assert reportgen("publish", link_only(sealed.academy), "--to", tmp_path / "open").exit_code == 0
    area = tmp_path / "open" / "upload" / sealed.area(PETRA)
    for folder in ("", "drills", sheets(sealed.academy, PETRA)[-1].stem):
        files = {name: data for name, data in opened.files(folder).items() if name != "places.json"}
        assert files == {f.name: f.read_bytes() for f in (area / folder).iterdir() if f.is_file()}


def test_a_mail_leads_to_its_lesson_by_an_address_that_says_nothing(sealed: Sealed, tmp_path: Path) -> None:
    say_in(sealed.academy, "site: https://example.org/golf")
    sent = reportgen("send", sealed.academy, "--student", PETRA, "--to-outbox", tmp_path / "out")
    assert sent.exit_code == 0, sent.stderr
    (mail,) = (tmp_path / "out").glob("*.eml")
    text = message_from_bytes(mail.read_bytes(), policy=default).get_body(("plain",)).get_content()
    route = sealed.opened(PETRA).route(f"{sheets(sealed.academy, PETRA)[-1].stem}/index.html")
    assert re.fullmatch("[a-z2-7]{16}", route)
    assert re.findall(r"https://example\.org/\S+", text) == [f"https://example.org/golf/{sealed.area(PETRA)}/#{route}"]


def test_nothing_changed_means_nothing_is_written(sealed: Sealed) -> None:
    before = times(sealed.site)
    sealed.publish()
    assert times(sealed.site) == before


def test_only_what_changed_is_uploaded(sealed: Sealed) -> None:
    before = contents(sealed.upload)
    change_sheet(sealed.academy, BETTINA)
    sealed.publish()
    after = contents(sealed.upload)
    opened = sealed.opened(BETTINA)
    latest = sheets(sealed.academy, BETTINA)[-1].stem
    changed = {name for name in after if after[name] != before.get(name)}
    assert changed == {opened.file_of(folder).relative_to(sealed.upload).as_posix() for folder in ("", latest)}
    assert set(before) == set(after)


class Removal(NamedTuple):
    """Petra's passphrase and keys from before, the site from before, and what a publish said without her."""

    after: Sealed
    old: Mapping[str, str]
    petra: Opened
    library: Opened
    before: dict[str, bytes]
    said: str


@pytest.fixture(scope="module")
def removal(_published: Sealed, tmp_path_factory: pytest.TempPathFactory) -> Removal:
    """The same after Petra was removed and the site published again."""
    folder = tmp_path_factory.mktemp("removal")
    own = _copy(_published, folder)
    old, petra, before = own.passphrases, own.opened(PETRA), contents(own.upload)
    library = open_library_from(petra)
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("REPORTGEN_PASSPHRASE", MINE)
        assert reportgen("members", "remove", own.academy, PETRA).exit_code == 0
        return Removal(own, old, petra, library, before, own.publish())


def test_a_removed_member_has_no_pages_and_no_passphrase(removal: Removal) -> None:
    sealed = removal.after
    assert f"No passphrase, so no pages: {PETRA}." in removal.said
    assert not removal.petra.folder.exists()
    for area in ("library", sealed.area(PETRA), sealed.area(BETTINA)):
        with pytest.raises(DoesNotOpenError):
            open_area(sealed.upload, area, removal.old[PETRA])


def test_no_key_that_a_removed_member_may_have_kept_opens_what_is_published_afterwards(removal: Removal) -> None:
    upload = removal.after.upload
    bundles = [f for f in upload.rglob("*.html") if f.name not in ("index.html", "keys.html")]
    assert len(bundles) > 3
    for key in (removal.petra.key, removal.library.key):
        for area in (removal.petra.area, "library", removal.after.area(BETTINA)):
            for file in bundles:
                kept = Opened(upload, area, key)
                kept.file_of = lambda folder, file=file: file  # type: ignore[method-assign, misc]
                with pytest.raises(DoesNotOpenError):
                    kept.files("")


def test_after_a_removal_every_other_passphrase_opens_as_before(removal: Removal) -> None:
    sealed = removal.after
    bettina = sealed.opened(BETTINA, removal.old[BETTINA])
    assert b"Bettina" in bettina.files("")["index.html"]
    assert open_library_from(bettina).files("")
    for member in (BETTINA, GIL):
        assert open_area(sealed.upload, "library", removal.old[member]).files("")


def test_a_removal_makes_no_other_students_pages_again(removal: Removal) -> None:
    assert "0 students made, 1 unchanged" in removal.said
    after = contents(removal.after.upload)
    bettina = removal.after.area(BETTINA)
    changed = {name for name in after if name.startswith(bettina) and after[name] != removal.before[name]}
    assert changed == {f"{bettina}/keys.html"}


def test_an_old_passphrase_opens_nothing_after_a_new_one_is_given(sealed: Sealed) -> None:
    old = sealed.passphrases[PETRA]
    reportgen("members", "add", sealed.academy, PETRA, "--anew")
    sealed.publish()
    assert b"Petra" in sealed.opened(PETRA).files("")["index.html"]
    for area in (sealed.area(PETRA), "library"):
        with pytest.raises(DoesNotOpenError):
            open_area(sealed.upload, area, old)


def test_the_last_good_pages_of_a_broken_sheet_go_with_their_old_passphrase(sealed: Sealed) -> None:
    break_sheet(sealed.academy, PETRA)
    sealed.publish()
    assert sealed.opened(PETRA).files("")
    reportgen("members", "add", sealed.academy, PETRA, "--anew")
    sealed.publish()
    assert not (sealed.upload / sealed.area(PETRA)).exists()


def _lose(sealed: Sealed, *files: Path) -> None:
    for file in files:
        file.rename(sealed.academy.with_name(f"lost {file.name}"))


def _open_site(sealed: Sealed) -> None:
    """The same academy, published for everybody who has the address, before anybody had a passphrase."""
    shutil.rmtree(sealed.site)
    file = keyring_of(sealed.academy)
    _lose(sealed, file, mark_beside(file))
    sealed.publish()
    for one in (file, mark_beside(file)):
        sealed.academy.with_name(f"lost {one.name}").rename(one)


def test_pages_that_were_open_are_sealed_even_those_of_a_broken_sheet(sealed: Sealed) -> None:
    _open_site(sealed)
    assert b"Petra" in (sealed.upload / sealed.area(PETRA) / "index.html").read_bytes()
    break_sheet(sealed.academy, PETRA)
    sealed.publish("--student", BETTINA)
    for student, name in ((PETRA, b"Petra"), (BETTINA, b"Bettina")):
        assert name in sealed.opened(student).files("")["index.html"]
        assert not [page for page in contents(sealed.upload).items() if name in page[1]]


def test_a_wrong_passphrase_publishes_nothing(sealed: Sealed, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("REPORTGEN_PASSPHRASE", "nine herons at low tide")
    before = contents(sealed.site)
    change_sheet(sealed.academy, PETRA)
    assert reportgen("publish", sealed.academy, "--to", sealed.site).exit_code == 2
    assert contents(sealed.site) == before


def test_two_workers_give_the_same_bytes_as_one(sealed: Sealed, tmp_path: Path) -> None:
    reportgen("publish", sealed.academy, "--to", tmp_path / "other", "--jobs", "2")
    assert contents(tmp_path / "other" / "upload") == contents(sealed.upload)


def test_a_file_among_the_areas_goes_for_it_names_them(sealed: Sealed) -> None:
    (sealed.upload / "s" / ".DS_Store").write_text("names of areas", encoding="utf-8")
    assert reportgen("publish", sealed.academy, "--to", sealed.site).exit_code == 0
    assert not (sealed.upload / "s" / ".DS_Store").exists()

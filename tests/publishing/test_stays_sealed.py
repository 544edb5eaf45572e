"""An academy whose students have passphrases is sealed: whatever is lost, put back or written, nothing lies open."""

import base64
import json
import shutil
import stat
from pathlib import Path
from typing import NamedTuple

import pytest
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.kdf.scrypt import Scrypt

from reportgen.records.academy import Academy
from reportgen.sealing.keyring import Keyring, empty_keyring, read_keyring
from reportgen.sealing.privacy import keyring_of, mark_beside
from reportgen.sealing.sealed_site import place_of
from reportgen.sheets.reading import read_sheet
from tests.publishing.opening import bytes_of, carried, open_area, open_library_from
from tests.publishing.small import BETTINA, PETRA, areas, contents, copy_with_keyring, reportgen, say_in, small_academy

MINE = "seven herons at low tide"


class Sealed(NamedTuple):
    academy: Path
    site: Path

    @property
    def keyring(self) -> Path:
        return keyring_of(self.academy)

    @property
    def mark(self) -> Path:
        return mark_beside(self.keyring)

    def area(self, student: str) -> str:
        sheet, _ = read_sheet(self.academy / "academy.yaml", "academy.yaml", Academy)
        assert sheet is not None
        return place_of(student, sheet.record)

    def refused(self, to: Path | None = None) -> str:
        """What `publish` says as it refuses, and writes nothing."""
        to = to or self.site
        before = contents(to)
        result = reportgen("publish", self.academy, "--to", to)
        assert (result.exit_code, result.stdout) == (2, "")
        assert contents(to) == before
        return result.stderr

    def published(self) -> None:
        result = reportgen("publish", self.academy, "--to", self.site)
        assert result.exit_code == 0, result.stderr


@pytest.fixture(scope="module")
def _published(tmp_path_factory: pytest.TempPathFactory) -> Sealed:
    folder = tmp_path_factory.mktemp("stays")
    made = Sealed(small_academy(folder / "academy", PETRA, BETTINA, lessons=1), folder / "site")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("REPORTGEN_PASSPHRASE", MINE)
        assert reportgen("members", "add", made.academy, "--all").exit_code == 0
        made.published()
    return made


@pytest.fixture
def sealed(_published: Sealed, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Sealed:
    """Petra and Bettina with passphrases, published."""
    monkeypatch.setenv("REPORTGEN_PASSPHRASE", MINE)
    copy_with_keyring(_published.academy, tmp_path / "academy")
    shutil.copytree(_published.site, tmp_path / "site")
    return Sealed(tmp_path / "academy", tmp_path / "site")


def test_an_academy_made_as_the_guide_says_has_no_page_in_clear(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("REPORTGEN_PASSPHRASE", MINE)
    academy, site = tmp_path / "first", tmp_path / "site"
    assert reportgen("start", academy).exit_code == 0
    assert reportgen("members", "add", academy, "--all").exit_code == 0
    assert reportgen("publish", academy, "--to", site).exit_code == 0
    assert len(areas(site)) == 1
    assert [name for name, data in contents(site / "upload").items() if b"Tamsin" in data] == []


@pytest.mark.parametrize("left", ["keyring and mark", "mark"])
def test_link_only_is_a_problem_where_students_have_passphrases(sealed: Sealed, left: str) -> None:
    say_in(sealed.academy, "private: link-only")
    if left == "mark":
        sealed.keyring.unlink()
    line = len((sealed.academy / "academy.yaml").read_text(encoding="utf-8").splitlines())
    at = f"academy.yaml:{line}:10: private: link-only lays the pages open, and "
    checked = reportgen("check", sealed.academy)
    assert (checked.exit_code, checked.stdout) == (1, "")
    assert checked.stderr.startswith(at)
    assert sealed.refused().startswith(at)


def test_until_one_of_the_two_is_changed(sealed: Sealed) -> None:
    before = (sealed.academy / "academy.yaml").read_bytes()
    say_in(sealed.academy, "private: link-only")
    sealed.refused()
    (sealed.academy / "academy.yaml").write_bytes(before)
    sealed.published()


def test_pages_are_opened_on_purpose_as_the_mark_says(sealed: Sealed) -> None:
    assert "delete this file and the keyring" in sealed.mark.read_text(encoding="utf-8")
    assert "private: link-only" in sealed.mark.read_text(encoding="utf-8")
    sealed.mark.unlink()
    sealed.keyring.unlink()
    say_in(sealed.academy, "private: link-only")
    sealed.published()
    assert b"Petra" in (sealed.site / "upload" / sealed.area(PETRA) / "index.html").read_bytes()


def test_no_letter_calls_open_pages_sealed(sealed: Sealed, tmp_path: Path) -> None:
    say_in(say_in(sealed.academy, "private: link-only"), "site: https://example.org/golf")
    before = sealed.keyring.read_bytes()
    add = reportgen("members", "add", sealed.academy, PETRA, "--anew")
    letter = reportgen("members", "letter", sealed.academy, PETRA, "--to", tmp_path / "letter.pdf")
    for refused in (add, letter):
        assert (refused.exit_code, refused.stdout) == (2, "")
        assert refused.stderr.startswith("academy.yaml says private: link-only")
    assert sealed.keyring.read_bytes() == before
    assert not (tmp_path / "letter.pdf").exists()


def test_nobody_is_given_a_passphrase_to_open_pages(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("REPORTGEN_PASSPHRASE", MINE)
    academy = say_in(small_academy(tmp_path / "academy", PETRA), "private: link-only")
    assert reportgen("members", "add", academy, PETRA).exit_code == 2
    assert not keyring_of(academy).exists()


def test_the_list_of_members_and_a_removal_tell_of_open_pages(sealed: Sealed) -> None:
    say_in(sealed.academy, "private: link-only")
    listed = reportgen("members", "list", sealed.academy)
    removed = reportgen("members", "remove", sealed.academy, BETTINA)
    assert listed.stdout.splitlines() == [f"{BETTINA}: own pages and library", f"{PETRA}: own pages and library"]
    assert removed.stdout.startswith(f"1 member removed: {BETTINA}.")
    for told in (listed, removed):
        assert told.exit_code == 1
        assert "private: link-only lays the pages open" in told.stderr


def test_no_mail_leads_to_pages_of_which_nobody_knows_whether_they_are_open(sealed: Sealed, tmp_path: Path) -> None:
    say_in(sealed.academy, "private: link-only")
    result = reportgen("send", sealed.academy, "--to-outbox", tmp_path / "out", "--journal", tmp_path / "journal")
    assert result.exit_code == 2
    assert "Nothing is sent" in result.stderr
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("left", ["mark", "site", "academy.yaml"])
def test_without_the_keyring_nothing_is_laid_open(sealed: Sealed, tmp_path: Path, left: str) -> None:
    sealed.keyring.unlink()
    if left != "mark":
        sealed.mark.unlink()
    if left == "academy.yaml":
        say_in(sealed.academy, "private: sealed")
    told = sealed.refused(None if left == "site" else tmp_path / "new")
    assert told.startswith(f"The pages are sealed, and there is no keyring {sealed.keyring}.")
    assert not (tmp_path / "new").exists()


def test_the_mark_is_for_its_owner_alone_and_says_what_it_is(sealed: Sealed) -> None:
    assert stat.S_IMODE(sealed.mark.stat().st_mode) == 0o600
    assert sealed.mark.read_text(encoding="utf-8").startswith("The pages of this academy are sealed: ")
    assert sealed.mark.parent == sealed.academy.parent


def test_an_old_keyring_put_back_is_noticed_by_the_mark(sealed: Sealed, tmp_path: Path) -> None:
    old = sealed.keyring.read_bytes()
    assert reportgen("members", "remove", sealed.academy, BETTINA).exit_code == 0
    sealed.keyring.write_bytes(old)
    assert "is an old copy" in sealed.refused(tmp_path / "new")
    for command in (("add", PETRA, "--anew"), ("remove", PETRA)):
        result = reportgen("members", command[0], sealed.academy, *command[1:])
        assert result.exit_code == 2
        assert "is an old copy" in result.stderr
    assert sealed.keyring.read_bytes() == old


def test_an_old_keyring_put_back_with_its_mark_is_noticed_by_the_site(sealed: Sealed) -> None:
    old, mark = sealed.keyring.read_bytes(), sealed.mark.read_bytes()
    assert reportgen("members", "remove", sealed.academy, BETTINA).exit_code == 0
    sealed.published()
    sealed.keyring.write_bytes(old)
    sealed.mark.write_bytes(mark)
    assert "is an old copy" in sealed.refused()


def test_a_mark_that_is_behind_its_keyring_keeps_nobody_out(sealed: Sealed) -> None:
    """As it is when the machine stops between the two."""
    before = sealed.mark.read_bytes()
    assert reportgen("members", "add", sealed.academy, BETTINA, "--anew").exit_code == 0
    sealed.mark.write_bytes(before)
    assert reportgen("members", "remove", sealed.academy, BETTINA).exit_code == 0


def test_a_keyring_that_was_never_older_goes_on(sealed: Sealed) -> None:
    for _ in range(2):
        assert reportgen("members", "add", sealed.academy, BETTINA, "--anew").exit_code == 0
    sealed.published()


def test_after_a_loss_another_keyring_goes_on(sealed: Sealed) -> None:
    """It begins to count anew, below the count that the lost one left in the mark and in the site."""
    assert reportgen("members", "add", sealed.academy, BETTINA, "--anew").exit_code == 0
    sealed.published()
    sealed.keyring.unlink()
    assert reportgen("members", "add", sealed.academy, "--all").exit_code == 0
    assert read_keyring(sealed.keyring, MINE).count == 1
    sealed.published()
    passphrase = read_keyring(sealed.keyring, MINE).members[PETRA].passphrase
    assert b"Petra" in open_area(sealed.site / "upload", sealed.area(PETRA), passphrase).files("")["index.html"]


def test_the_same_count_has_the_same_signs_and_tells_nothing(sealed: Sealed) -> None:
    keyring = read_keyring(sealed.keyring, MINE)
    published = json.loads(carried(sealed.site / "upload" / "library" / "keys.html"))["count"]
    assert published == keyring.sealed_count == sealed.mark.read_text(encoding="utf-8").splitlines()[-1]
    assert keyring.count_in(published) == keyring.count == 1
    assert len(bytes_of(published)) == 24


@pytest.mark.parametrize("forged", ["", "0", "0" * 32, "not a count", "é" * 32])
def test_a_count_that_nobody_sealed_says_nothing(forged: str) -> None:
    assert empty_keyring().count_in(forged) is None


def test_a_damaged_mark_keeps_nobody_out(sealed: Sealed) -> None:
    sealed.mark.write_bytes(b"\xff\0")
    assert read_keyring(sealed.keyring, MINE).count == 1


def _as_the_first_format(keyring: Keyring) -> bytes:
    """A keyring as the first edition wrote it, with the same passphrases and keys."""

    def text(data: bytes) -> str:
        return base64.b64encode(data).decode()

    names, salt, nonce = list(keyring.members), bytes(16), bytes(12)
    members = {
        name: {"passphrase": m.passphrase, "salt": text(m.salt), "wrapping": text(m.wrapping), "tag": text(bytes(16))}
        | {"area": text(m.area)}
        for name, m in keyring.members.items()
    }
    inside = {"members": members, "library": text(keyring.library), "tag_salt": text(keyring.tag_salt)}
    key = Scrypt(salt, 32, 1 << 17, 8, 1).derive(MINE.encode())
    bound = json.dumps(["reportgen keyring", 1, names]).encode()
    shut = nonce + AESGCM(key).encrypt(nonce, json.dumps(inside).encode(), bound)
    return json.dumps({"reportgen keyring": 1, "members": names, "salt": text(salt), "sealed": text(shut)}).encode()


def test_a_keyring_of_the_first_edition_is_brought_up_to_date_once(sealed: Sealed) -> None:
    now = read_keyring(sealed.keyring, MINE)
    sealed.keyring.write_bytes(_as_the_first_format(now))
    sealed.mark.unlink()
    sealed.published()
    written = sealed.keyring.read_bytes()
    assert sealed.mark.exists()
    for name, member in read_keyring(sealed.keyring, MINE).members.items():
        before = now.members[name]
        assert (member.passphrase, member.area) == (before.passphrase, before.area)
        opened = open_area(sealed.site / "upload", sealed.area(name), member.passphrase)
        library = open_area(sealed.site / "upload", "library", member.passphrase)
        assert open_library_from(opened).files("") == library.files("")
    sealed.published()
    assert sealed.keyring.read_bytes() == written


def test_a_keyring_of_the_first_edition_beside_a_mark_was_put_back(sealed: Sealed) -> None:
    old = _as_the_first_format(read_keyring(sealed.keyring, MINE))
    sealed.keyring.write_bytes(old)
    assert "is an old copy" in sealed.refused()
    assert sealed.keyring.read_bytes() == old


def test_nothing_in_an_area_tells_which_entry_of_the_library_is_its_owners(sealed: Sealed) -> None:
    upload = sealed.site / "upload"
    area = json.loads(carried(upload / sealed.area(PETRA) / "keys.html"))
    library = json.loads(carried(upload / "library" / "keys.html"))
    own = {*area["members"][0].values(), area["library"]}
    theirs = {library["salt"], *(value for entry in library["members"] for value in entry.values())}
    assert len(own) == 3
    assert len(theirs) == 7
    assert not own & theirs

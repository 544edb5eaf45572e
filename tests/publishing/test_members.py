"""The keyring and its commands: who is in, who is out, and that nothing of it can be read without the passphrase."""

import json
import stat
from pathlib import Path

import pytest

from reportgen.sealing.keyring import KeyringError, read_keyring
from reportgen.sealing.privacy import keyring_of, mark_beside
from tests.publishing.small import BETTINA, PETRA, copy_with_keyring, reportgen, say_in, small_academy

MINE = "seven herons at low tide"


@pytest.fixture(scope="module")
def _with_members(tmp_path_factory: pytest.TempPathFactory) -> Path:
    academy = small_academy(tmp_path_factory.mktemp("members") / "academy", PETRA, BETTINA)
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("REPORTGEN_PASSPHRASE", MINE)
        result = reportgen("members", "add", academy, "--all")
    assert result.stdout.splitlines() == [
        f"2 members added: {BETTINA}, {PETRA}. The next publish lets them in.",
        "Write private: sealed into academy.yaml: wherever the folder goes, it then says so itself.",
    ]
    return academy


@pytest.fixture
def academy(_with_members: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Petra and Bettina with passphrases."""
    monkeypatch.setenv("REPORTGEN_PASSPHRASE", MINE)
    return copy_with_keyring(_with_members, tmp_path / "academy")


def _names(academy: Path) -> list[str]:
    return reportgen("members", "list", academy).stdout.splitlines()


def test_everybody_added_is_listed_without_a_passphrase(academy: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("REPORTGEN_PASSPHRASE")
    assert _names(academy) == [f"{BETTINA}: own pages and library", f"{PETRA}: own pages and library"]


def test_somebody_who_is_no_student_has_the_library(academy: Path) -> None:
    assert reportgen("members", "add", academy, "guest-gil", "--library-only").exit_code == 0
    assert "guest-gil: library" in _names(academy)


def test_a_misspelt_student_is_not_taken_for_a_guest(academy: Path) -> None:
    result = reportgen("members", "add", academy, "petra-lumsgat")
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr == "There is no student petra-lumsgat. Did you mean petra-lumsgate?\n"


def test_a_member_is_added_once(academy: Path) -> None:
    result = reportgen("members", "add", academy, PETRA)
    assert result.exit_code == 2
    assert "is a member already" in result.stderr


def test_anew_gives_another_passphrase_and_other_keys(academy: Path) -> None:
    before = read_keyring(keyring_of(academy), MINE)
    assert reportgen("members", "add", academy, PETRA, "--anew").exit_code == 0
    after = read_keyring(keyring_of(academy), MINE)
    assert after.members[BETTINA] == before.members[BETTINA]
    old, new = before.members[PETRA], after.members[PETRA]
    assert not set(vars(old).values()) & set(vars(new).values())
    assert len({new.salt, new.library_salt, new.wrapping, new.library_wrapping, new.area}) == 5
    assert before.library != after.library


def test_who_is_removed_is_out_and_the_library_has_another_key(academy: Path) -> None:
    before = read_keyring(keyring_of(academy), MINE)
    result = reportgen("members", "remove", academy, BETTINA)
    assert result.stdout == f"1 member removed: {BETTINA}. Publish and upload, and they are out.\n"
    after = read_keyring(keyring_of(academy), MINE)
    assert list(after.members) == [PETRA]
    assert before.library != after.library


def test_nobody_can_be_removed_twice(academy: Path) -> None:
    assert reportgen("members", "remove", academy, BETTINA).exit_code == 0
    result = reportgen("members", "remove", academy, BETTINA)
    assert (result.exit_code, result.stderr) == (2, f"{BETTINA} is no member. Known here: {PETRA}.\n")


def test_the_keyring_is_for_its_owner_alone_and_says_nothing(academy: Path) -> None:
    file = keyring_of(academy)
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert not file.is_relative_to(academy)
    text = file.read_bytes()
    for member in read_keyring(file, MINE).members.values():
        assert member.passphrase.encode() not in text
    assert MINE.encode() not in text


def test_another_passphrase_does_not_open_it(academy: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("REPORTGEN_PASSPHRASE", MINE + ".")
    before = keyring_of(academy).read_bytes()
    result = reportgen("members", "remove", academy, PETRA)
    assert (result.exit_code, result.stdout) == (2, "")
    assert "does not open" in result.stderr
    assert keyring_of(academy).read_bytes() == before


def test_names_written_into_it_by_hand_are_noticed(academy: Path) -> None:
    file = keyring_of(academy)
    written = json.loads(file.read_text(encoding="utf-8"))
    file.write_text(json.dumps({**written, "members": [PETRA]}), encoding="utf-8")
    with pytest.raises(KeyringError, match="the file was changed"):
        read_keyring(file, MINE)


@pytest.mark.parametrize("text", ["", "{}", "[1]", '{"reportgen keyring": 1, "members": 5}', "\x00"])
def test_a_damaged_keyring_is_told(academy: Path, text: str) -> None:
    keyring_of(academy).write_text(text, encoding="utf-8")
    result = reportgen("members", "list", academy)
    assert (result.exit_code, result.stdout) == (2, "")
    assert "is no keyring, or damaged" in result.stderr


def test_a_keyring_of_a_later_program_is_left_alone(academy: Path) -> None:
    keyring_of(academy).write_text('{"reportgen keyring": 3, "members": []}', encoding="utf-8")
    assert "a later reportgen" in reportgen("members", "add", academy, PETRA).stderr


def test_the_passphrase_may_stand_in_a_file(academy: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("REPORTGEN_PASSPHRASE")
    (tmp_path / "mine").write_text(MINE + "\n", encoding="utf-8")
    monkeypatch.setenv("REPORTGEN_PASSPHRASE_FILE", str(tmp_path / "mine"))
    assert reportgen("members", "remove", academy, PETRA).exit_code == 0


def test_an_unattended_run_without_a_passphrase_says_what_it_needs(
    academy: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("REPORTGEN_PASSPHRASE")
    result = reportgen("members", "remove", academy, PETRA)
    assert result.exit_code == 2
    assert "REPORTGEN_PASSPHRASE" in result.stderr


def test_a_short_passphrase_begins_no_keyring(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    academy = small_academy(tmp_path / "academy", PETRA)
    monkeypatch.setenv("REPORTGEN_PASSPHRASE", "too short")
    result = reportgen("members", "add", academy, PETRA)
    assert result.exit_code == 2
    assert "at least 12 signs" in result.stderr
    assert not keyring_of(academy).exists()


def test_a_lost_keyring_is_made_up_for_by_new_passphrases(academy: Path) -> None:
    before = read_keyring(keyring_of(academy), MINE)
    keyring_of(academy).unlink()
    assert "There is no keyring" in reportgen("members", "remove", academy, PETRA).stderr
    assert reportgen("members", "add", academy, "--all").exit_code == 0
    after = read_keyring(keyring_of(academy), MINE)
    assert list(after.members) == list(before.members)
    assert after.members[PETRA].passphrase != before.members[PETRA].passphrase


def test_the_letter_brings_address_and_passphrase_on_one_page(academy: Path, tmp_path: Path) -> None:
    from tests.site.published import pdf_text, plain

    say_in(academy, "site: https://example.org/golf/")
    letter = tmp_path / "letter.pdf"
    assert reportgen("members", "letter", academy, PETRA, "--to", letter).stdout == f"{letter}\n"
    assert pdf_text(letter).count("\f") == 1
    text = plain(pdf_text(letter))
    assert read_keyring(keyring_of(academy), MINE).members[PETRA].passphrase in text
    assert "https://example.org/golf/s/" in text
    assert "Petra" in text
    assert "When you close the tab, load a page again or press Lock, the pages ask for it again." in text
    assert "what is saved is no longer sealed" in text
    assert stat.S_IMODE(letter.stat().st_mode) == 0o600


def test_a_letter_needs_the_address_of_the_site(academy: Path, tmp_path: Path) -> None:
    result = reportgen("members", "letter", academy, PETRA, "--to", tmp_path / "letter.pdf")
    assert result.exit_code == 2
    assert "site: https://" in result.stderr
    assert not (tmp_path / "letter.pdf").exists()


@pytest.mark.parametrize(
    ("private", "keyring", "mark", "warned"),
    [
        ("", True, True, None),
        ("private: sealed", True, True, None),
        ("private: link-only", False, False, None),
        ("", False, False, "whoever has the address reads the pages"),
        ("", False, True, "the pages are sealed, and there is no keyring"),
        ("private: sealed", False, False, "the pages are sealed, and there is no keyring"),
    ],
)
def test_check_warns_of_open_pages_and_finds_no_problem(
    academy: Path, private: str, keyring: bool, mark: bool, warned: str | None
) -> None:
    say_in(academy, private)
    if not keyring:
        keyring_of(academy).unlink()
    if not mark:
        mark_beside(keyring_of(academy)).unlink()
    result = reportgen("check", academy)
    assert result.exit_code == 0
    assert result.stderr.startswith("warning: academy.yaml: ") == (warned is not None)
    assert (warned or "") in result.stderr


def test_check_warns_of_a_student_without_a_passphrase(academy: Path) -> None:
    reportgen("members", "remove", academy, PETRA)
    result = reportgen("check", academy)
    assert (result.exit_code, result.stdout.startswith("No problems")) == (0, True)
    assert result.stderr.startswith(f"warning: students/{PETRA}: no passphrase, so no pages.")

"""A student who goes is taken out of everything that the program keeps, and nobody else is."""

import os
import re
import shutil
import zipfile
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import NamedTuple

import pytest
from click.testing import Result

from reportgen.delivery.journal import journal_of, read_entries
from reportgen.publishing.lock import locked
from reportgen.sealing.keyring import member_names, read_keyring
from reportgen.sealing.privacy import keyring_of
from tests.publishing.killing import killed_after
from tests.publishing.small import HENRIK, MIRO, PETRA, contents, reportgen, sheets, small_academy

MINE = "seven herons at low tide"
NAMED = (MIRO.encode(), b"Miro Tavenhall")
FATHERS = b"henrik.tavenhall@example.org"
"""Where mails about Miro go, and those to his father, who has lessons too."""
KEPT_OF_THE_FATHER = (f"students/{HENRIK}.json", f"kept/{HENRIK}.zip")
"""What goes with his pages, and is not named besides."""
ONLY_OPEN = pytest.mark.parametrize("_whole", [False], indirect=True, ids=["open"])
"""What is the same where pages are sealed."""


class Home(NamedTuple):
    """A folder with an academy, all that the program has put beside it, and a second published folder elsewhere."""

    folder: Path

    @property
    def academy(self) -> Path:
        return self.folder / "home" / "academy"

    @property
    def site(self) -> Path:
        return self.folder / "home" / "site"

    @property
    def elsewhere(self) -> Path:
        return self.folder / "stick" / "site"

    @property
    def here(self) -> Path:
        return self.folder / "here"

    @property
    def own(self) -> Path:
        return self.academy / "students" / MIRO

    def forget(self, *more: str, student: str = MIRO) -> Result:
        return reportgen("forget", self.academy, student, "--to", self.elsewhere, *more)


def _made(folder: Path, *, sealed: bool) -> Home:
    home = Home(folder)
    home.here.mkdir(parents=True)
    home.academy.parent.mkdir()
    small_academy(home.academy, MIRO, HENRIK, PETRA, lessons=1)
    with (home.academy / "academy.yaml").open("a", encoding="utf-8") as file:
        file.write("site: https://lessons.example.org\n")
    if "pictures:" not in (fathers := home.academy / "students" / HENRIK / "student.yaml").read_text(encoding="utf-8"):
        with fathers.open("a", encoding="utf-8") as file:
            file.write("pictures: {given_by: Henrik Tavenhall, given_on: 2026-09-05}\n")
    os.chdir(home.here)
    if sealed:
        assert reportgen("members", "add", home.academy, "--all").exit_code == 0
        assert reportgen("members", "letter", home.academy, MIRO).exit_code == 0
    for site in (home.site, home.elsewhere):
        assert reportgen("publish", home.academy, "--to", site).exit_code == 0
    assert reportgen("season", home.academy, "--to", home.site).exit_code == 0
    assert reportgen("send", home.academy).exit_code == 0
    assert reportgen("recap", home.academy, MIRO).exit_code == 0
    assert (
        reportgen("recap", home.academy, MIRO, "--to", home.folder / "home" / f"recap-{MIRO}-2026-11-14.pdf").exit_code
        == 0
    )
    _left_by_a_kill(home)
    return home


def _left_by_a_kill(home: Home) -> None:
    """What a publish and a send leave that are killed at an evil moment."""
    made = home.site / ".made"
    staged = made / "new" / "a1b2c3d4" / MIRO
    staged.mkdir(parents=True)
    (staged / "index.html").write_text("Miro Tavenhall", encoding="utf-8")
    for name in ("kept/miro-tavenhall.4711", "students/miro-tavenhall.new", "files.new", "desk.html",
                 "kept/.miro-tavenhall.zip.new", "students/.miro-tavenhall.json.new", ".files.json.new"):  # fmt: skip
        (made / name).write_text("Miro Tavenhall", encoding="utf-8")
    for begun in (".part", ".new"):
        mail = f".2026-11-14-{MIRO}-0a1b2c3d.eml{begun}"
        (home.academy.with_name("academy.outbox") / mail).write_text(MIRO, encoding="utf-8")
    (home.here / f".recap-{MIRO}-2026-11-14.pdf.new").write_text(MIRO, encoding="utf-8")


@pytest.fixture(scope="module", params=[False, True], ids=["open", "sealed"])
def _whole(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Home]:
    before = Path.cwd()
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("REPORTGEN_PASSPHRASE", MINE)
        yield _made(tmp_path_factory.mktemp("forget") / "all", sealed=request.param)
    os.chdir(before)


@pytest.fixture
def home(_whole: Home, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Home:
    """Miro, his father, whose lesson shows Miro's pictures beside his own, and Petra: published, mailed, printed."""
    own = Home(tmp_path / "all")
    shutil.copytree(_whole.folder, own.folder)
    monkeypatch.setenv("REPORTGEN_PASSPHRASE", MINE)
    monkeypatch.chdir(own.here)
    return own


def found(folder: Path, *words: bytes) -> set[str]:
    """The files below a folder in whose name or bytes one of the words stands."""
    everything = (path for path in folder.rglob("*") if path.is_file())
    return {
        str(path)
        for path in everything
        if any(word in path.read_bytes() or word in os.fsencode(path) for word in words)
    }


def told(result: Result, begins: str) -> list[str]:
    return [line.removeprefix(begins) for line in result.stdout.splitlines() if line.startswith(begins)]


def files_named(result: Result) -> set[str]:
    """The files that the instructor is told to look at."""
    return {re.split(r":\d+ names them| names them|: ", line)[0] for line in told(result, "  ")}


def pictures_of_miro(home: Home) -> list[bytes]:
    """His stills, and how they are published and kept, drawn on and made smaller."""
    stills = [file.read_bytes() for file in (home.own / "stills").iterdir()]
    with zipfile.ZipFile(home.site / ".made" / "kept" / f"{MIRO}.zip") as kept:
        photos = [kept.read(name) for name in kept.namelist() if name.endswith((".jpg", ".png"))]
    assert len(stills) == 6
    assert len(photos) >= 3
    return stills + photos


def test_nothing_of_them_is_found_but_what_was_named(home: Home) -> None:
    pictures = pictures_of_miro(home)
    before = found(home.folder, *pictures)
    kept = {str(s / ".made" / "kept" / f"{name}.zip") for s in (home.site, home.elsewhere) for name in (MIRO, HENRIK)}
    assert kept <= before
    shutil.rmtree(home.own)
    done = home.forget()
    assert (done.exit_code, done.stderr) == (0, "")
    assert found(home.folder, *pictures) == set()
    assert found(home.folder, *NAMED, FATHERS) == files_named(done) & found(home.folder, *NAMED, FATHERS)
    lines = told(done, "  ")
    father = home.academy / "students" / HENRIK
    sheet = father / "lessons" / "2026-11-14.yaml"
    written = sheet.read_text(encoding="utf-8").splitlines()
    (compared,) = (number for number, line in enumerate(written, 1) if line.startswith("compare:"))
    assert f"{sheet}:{compared} names them" in lines
    assert any(line.startswith(f"{father / 'student.yaml'}:") for line in lines)


def test_every_line_that_it_prints_is_true(home: Home) -> None:
    there = contents(home.folder)
    done = home.forget()
    gone = {str(home.folder / name) for name in there.keys() - contents(home.folder).keys()}
    said = [line.partition(": ")[0] for line in told(done, "removed ")]
    assert [line for line in said if Path(line).exists() and not line.endswith((".keys", ".sqlite"))] == []
    of_the_father = {str(s / ".made" / n) for s in (home.site, home.elsewhere) for n in KEPT_OF_THE_FATHER}
    assert {file for file in gone if not any(file.startswith(line) for line in said)} == of_the_father


def test_a_dry_run_lists_the_same_and_changes_nothing(home: Home, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("REPORTGEN_PASSPHRASE")
    before = {path: path.stat().st_mtime_ns for path in home.folder.rglob("*") if path.is_file()}
    dry = home.forget("--dry-run")
    assert {path: path.stat().st_mtime_ns for path in home.folder.rglob("*") if path.is_file()} == before
    monkeypatch.setenv("REPORTGEN_PASSPHRASE", MINE)
    assert told(dry, "would remove ") == told(home.forget(), "removed ")


def test_a_second_run_finds_nothing_left(home: Home) -> None:
    assert home.forget().exit_code == 0
    again = home.forget()
    assert again.exit_code == 0
    assert again.stdout.startswith(f"Nothing of {MIRO} is left beside {home.academy}.\n")
    assert told(again, "removed ") == []
    assert f"  {home.own}: delete this folder. While it is there, the next publish makes the pages again." in (
        again.stdout.splitlines()
    )


def test_the_academy_is_never_changed(home: Home) -> None:
    before = {path: (path.stat().st_mtime_ns, path.is_dir() or path.read_bytes()) for path in home.academy.rglob("*")}
    assert home.forget().exit_code == 0
    after = {path: (path.stat().st_mtime_ns, path.is_dir() or path.read_bytes()) for path in home.academy.rglob("*")}
    assert after == before


def _areas(upload: Mapping[str, bytes]) -> set[str]:
    return {parts[1] for name in upload if (parts := name.split("/"))[0] == "s" and len(parts) > 2}


def test_the_others_keep_what_is_theirs(home: Home) -> None:
    before = contents(home.site / "upload")
    kept = (home.site / ".made" / "kept" / f"{PETRA}.zip").read_bytes()
    shutil.rmtree(home.own)
    home.forget()
    after = contents(home.site / "upload")
    assert after.items() <= before.items()
    assert len(_areas(before)) == 3
    assert len(_areas(after)) == 1
    assert (home.site / ".made" / "kept" / f"{PETRA}.zip").read_bytes() == kept
    assert len(list(home.academy.with_name("academy.outbox").glob(f"*-{PETRA}-*.eml"))) == 1
    published = reportgen("publish", home.academy, "--to", home.site)
    assert f"there is no other student '{MIRO}'" in published.stderr  # in the father's sheet, until it is mended
    (sheet,) = sheets(home.academy, HENRIK)
    sheet.write_text(
        re.sub(r"^compare:.*\n", "", sheet.read_text(encoding="utf-8"), flags=re.MULTILINE), encoding="utf-8"
    )
    assert reportgen("publish", home.academy, "--to", home.site).exit_code == 0
    assert len(list((home.site / "upload" / "s").glob("*/index.html"))) == 2


def test_that_a_mail_went_is_known_and_not_about_whom(home: Home) -> None:
    before = {entry.student: entry for entry in read_entries(journal_of(home.academy))}
    home.forget()
    after = read_entries(journal_of(home.academy))
    (his,) = (entry for entry in after if entry.student == "")
    assert (his.state, his.lesson, his.at.date()) == ("sent", before[MIRO].lesson, before[MIRO].at.date())
    assert (his.revision, his.message_id, his.addresses, his.facts, his.says) == ("", "", {}, None, "")
    assert [entry for entry in after if entry.student] == [before[entry.student] for entry in after if entry.student]
    assert found(home.academy.parent, before[MIRO].revision.encode(), before[MIRO].message_id.encode()) == set()


def test_a_member_is_taken_out_of_the_keyring_and_the_library_has_another_key(home: Home) -> None:
    file = keyring_of(home.academy)
    if file.exists():
        before = read_keyring(file, MINE)
        home.forget()
        after = read_keyring(file, MINE)
        assert list(after.members) == [HENRIK, PETRA]
        assert after.library != before.library
    else:
        assert home.forget().exit_code == 0
        assert not file.exists()


def test_without_the_passphrase_that_a_keyring_asks_for_nothing_is_touched(
    home: Home, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("REPORTGEN_PASSPHRASE", "another one")
    before = contents(home.folder)
    done = home.forget()
    if keyring_of(home.academy).exists():
        assert (done.exit_code, done.stdout) == (2, "")
        assert contents(home.folder) == before
        assert MIRO in member_names(keyring_of(home.academy))
    else:
        assert done.exit_code == 0


@ONLY_OPEN
def test_ended_after_any_step_and_run_again_it_leaves_as_little(home: Home, tmp_path: Path) -> None:
    whole = tmp_path / "whole"
    shutil.copytree(home.folder, whole)
    shutil.rmtree(home.own)
    steps = len(told(home.forget("--dry-run"), "would remove "))
    home.forget()
    wanted = set(contents(home.folder))
    for step in range(0, 2 * steps, 7):
        shutil.rmtree(home.folder)
        shutil.copytree(whole, home.folder)
        os.chdir(home.here)
        shutil.rmtree(home.own)
        assert killed_after(step, home.forget)
        assert home.forget().exit_code == 0
        assert set(contents(home.folder)) == wanted, step
        assert found(home.site, *NAMED) == found(home.elsewhere, *NAMED) == set()


@ONLY_OPEN
def test_while_a_publish_is_at_work_nothing_is_touched(home: Home) -> None:
    before = contents(home.folder / "home")
    with locked(home.site / ".made" / "lock"):
        done = home.forget()
    assert (done.exit_code, done.stdout) == (2, "")
    assert "is at work in" in done.stderr
    before.pop("site/.made/lock")
    after = contents(home.folder / "home")
    after.pop("site/.made/lock")
    assert after == before


@ONLY_OPEN
def test_an_id_that_is_a_part_of_another_hits_nobody_else(home: Home) -> None:
    outbox = home.academy.with_name("academy.outbox")
    others = [
        outbox / f"2026-11-14-little-{MIRO}-0a1b2c3d.eml",
        outbox / f"2026-11-14-{MIRO}-2-0a1b2c3d.eml",
        outbox / f"2026-11-14-{MIRO}-0a1b2c3d.eml.bak",
        home.here / f"recap-{MIRO}-2-2026-11-14.pdf",
        home.here / f"letter-{MIRO}-2.pdf",
        home.site / ".made" / "kept" / f"{MIRO}-2.zip",
    ]
    for file in others:
        file.write_text("of somebody else", encoding="utf-8")
    home.forget()
    assert [file for file in others if not file.exists()] == []


@ONLY_OPEN
def test_a_mail_that_may_be_anothers_is_left_and_named(home: Home) -> None:
    (home.academy / "students" / f"2-{MIRO}").mkdir()
    theirs = home.academy.with_name("academy.outbox") / f"2026-11-14-2-{MIRO}-0a1b2c3d.eml"
    theirs.write_text("whose?", encoding="utf-8")
    done = home.forget()
    assert theirs.exists()
    assert f"  {theirs}: a mail to {MIRO}, or to somebody whose id ends in the same way: look yourself" in (
        done.stdout.splitlines()
    )


@ONLY_OPEN
def test_a_published_folder_of_another_academy_is_left_alone(home: Home) -> None:
    other = home.folder / "home" / "another"
    shutil.copytree(home.academy, other)
    file = other / "academy.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("nine slow herons", "four quick terns"), encoding="utf-8")
    assert reportgen("publish", other, "--to", home.folder / "home" / "another-site").exit_code == 0
    before = contents(home.folder / "home" / "another-site")
    assert home.forget().exit_code == 0
    assert contents(home.folder / "home" / "another-site") == before
    refused = home.forget("--to", str(home.folder / "home" / "another-site"))
    assert refused.exit_code == 2
    assert "holds no publish of this academy" in refused.stderr


@ONLY_OPEN
def test_copies_of_their_pictures_and_exports_are_named(home: Home) -> None:
    still = next((home.own / "stills").iterdir())
    copy = home.academy / "students" / PETRA / "copied.png"
    shutil.copy(still, copy)
    lines = told(home.forget("--dry-run"), "  ")
    assert f"{copy}: a copy of one of their pictures" in lines


@ONLY_OPEN
def test_a_page_for_setting_marks_of_an_earlier_version_is_named(home: Home) -> None:
    page = home.here / "mark.html"
    page.write_text('<!doctype html><meta name="generator" content="reportgen mark">', encoding="utf-8")
    (home.here / "other.html").write_text("<!doctype html>", encoding="utf-8")
    (line,) = (line for line in told(home.forget("--dry-run"), "  ") if "setting marks" in line)
    assert Path(line.split(": a page for setting marks")[0].strip()).name == page.name


@ONLY_OPEN
@pytest.mark.parametrize(
    ("student", "code", "says"),
    [
        ("miro-tavenhal", 0, "Did you mean miro-tavenhall?"),
        ("../petra-lumsgate", 2, "is not an id"),
        ("Miro", 2, "is not an id"),
    ],
)
def test_a_misspelt_student_is_told(home: Home, student: str, code: int, says: str) -> None:
    before = contents(home.folder / "home" / "site" / "upload")
    done = home.forget(student=student)
    assert done.exit_code == code
    assert says in done.output
    assert contents(home.folder / "home" / "site" / "upload") == before


@ONLY_OPEN
def test_the_second_looks_that_name_them_are_told_by_line(home: Home) -> None:
    """The academy is never changed: `check` tells of the same lines once the student has gone."""
    rounds = home.academy / "rounds"
    rounds.mkdir()
    text = "date: 2026-11-28\nstills:\n  - {student: %s, lesson: 2026-11-14, file: a.png, marks: {neck: [9, 9]}}\n"
    (rounds / "2026-11-28.yaml").write_text(text % MIRO, encoding="utf-8")
    shutil.rmtree(home.own)
    assert f"{rounds / '2026-11-28.yaml'}:3 names them" in told(home.forget(), "  ")
    checked = reportgen("check", home.academy).stderr
    (line,) = (line for line in checked.splitlines() if line.startswith("rounds/2026-11-28.yaml:3:15: "))
    assert line.endswith("Take these lines out if the student has gone.")

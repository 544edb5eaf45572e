"""Leave that is taken back, sharing that ends and somebody who goes: no picture of them stays in any byte of a site,
sealed or open, whether or not what replaces the pages can be made."""

import io
import re
import shutil
import zipfile
from collections.abc import Callable, Iterator
from hashlib import sha256
from pathlib import Path
from typing import NamedTuple

import pikepdf
import pytest
from PIL import Image

from reportgen.records.academy import Academy
from reportgen.sealing.keyring import read_keyring
from reportgen.sealing.privacy import keyring_of
from reportgen.sealing.sealed_site import place_of
from reportgen.sheets.reading import read_sheet
from tests.publishing.opening import open_area
from tests.publishing.small import MIRO, area_of, reportgen, sheets, small_academy
from tests.site.published import Page

HENRIK = "henrik-tavenhall"
MINE = "seven herons at low tide"
LOUD = {MIRO: (255, 0, 255), HENRIK: (0, 255, 255)}
"""Colours that no page, drawing or figure of ours has: all pictures of Miro are of the one, Henrik's of the other."""


class Family(NamedTuple):
    academy: Path
    site: Path
    sealed: bool

    def publish(self, *more: str, code: int | None = None) -> str:
        result = reportgen("publish", self.academy, "--to", self.site, *more)
        assert result.exit_code in ((0, 1) if code is None else (code,)), result.output
        return result.stdout + result.stderr

    def sheet(self, student: str) -> Path:
        return next(file for file in sheets(self.academy, student) if "stills:" in file.read_text(encoding="utf-8"))

    def break_sheet(self, student: str) -> None:
        """A typo in an old sheet, which has no pictures."""
        first = sheets(self.academy, student)[0]
        assert first != self.sheet(student)
        first.write_text(first.read_text(encoding="utf-8").replace("club:", "clubb:"), encoding="utf-8")

    def change(self, student: str, pattern: str, by: str) -> None:
        file = self.academy / "students" / student / "student.yaml"
        changed = re.sub(pattern, by, text := file.read_text(encoding="utf-8"))
        assert changed != text
        file.write_text(changed, encoding="utf-8")

    def take_back(self, student: str) -> None:
        self.change(student, r"(pictures: \{.*)\}", r"\1, withdrawn_on: 2026-11-20}")

    def pictured(self) -> dict[str, set[str]]:
        """Whose pictures are in which area, and under "store" in what is kept beside."""
        areas = {student: set(self._faces(self._area_files(student))) for student in (MIRO, HENRIK)}
        return areas | {"store": set(self._faces(_unpacked(self.site / ".made")))}

    def _area_files(self, student: str) -> Iterator[bytes]:
        sheet, _ = read_sheet(self.academy / "academy.yaml", "academy.yaml", Academy)
        assert sheet is not None
        area = place_of(student, sheet.record)
        if not (self.site / "upload" / area).exists():
            return
        if not self.sealed:
            yield from (file.read_bytes() for file in (self.site / "upload" / area).rglob("*") if file.is_file())
            return
        passphrase = read_keyring(keyring_of(self.academy), MINE).members[student].passphrase
        opened = open_area(self.site / "upload", area, passphrase)
        lessons = [file.stem for file in (self.academy.parent / "all").rglob("20*.yaml")]
        swings = [
            f"swing-{sha256(file.read_bytes()).hexdigest()[:16]}"
            for file in (self.academy.parent / "all").rglob("*.webp")
        ]
        for folder in ("", *lessons, *(f"{lesson}/{swing}" for lesson in lessons for swing in swings)):
            if opened.file_of(folder).is_file():
                yield from opened.files(folder).values()

    @staticmethod
    def _faces(files: Iterator[bytes]) -> Iterator[str]:
        for data in files:
            for picture in _pictures(data):
                colours = picture.convert("RGB").resize((8, 8)).getcolors() or []
                for student, loud in LOUD.items():
                    if any(max(abs(a - b) for a, b in zip(c, loud, strict=True)) < 60 for _, c in colours):
                        yield student


def _unpacked(folder: Path) -> Iterator[bytes]:
    for file in folder.rglob("*"):
        if file.suffix == ".zip":
            with zipfile.ZipFile(file) as kept:
                yield from map(kept.read, kept.namelist())
        elif file.is_file():
            yield file.read_bytes()


def _pictures(data: bytes) -> Iterator[Image.Image]:
    if data.startswith(b"%PDF"):
        with pikepdf.open(io.BytesIO(data)) as pdf:
            found = [o for o in pdf.objects if isinstance(o, pikepdf.Stream) and o.get("/Subtype") == "/Image"]
            yield from (pikepdf.PdfImage(one).as_pil_image() for one in found)
    elif data.startswith((b"\x89PNG", b"\xff\xd8", b"RIFF")):
        with Image.open(io.BytesIO(data)) as picture:
            yield picture.copy()


@pytest.fixture(scope="module", params=[False, True], ids=["open", "sealed"])
def _published(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Family:
    folder = tmp_path_factory.mktemp("family")
    academy = small_academy(folder / "academy", MIRO, HENRIK, lessons=6)
    for student, loud in LOUD.items():
        stilled = [file for file in sheets(academy, student) if "stills:" in file.read_text(encoding="utf-8")]
        for spare in sheets(academy, student)[1:]:
            if spare not in stilled:
                spare.unlink()
        for still in (academy / "students" / student / "stills").iterdir():
            with Image.open(still) as drawn:
                Image.new("RGB", drawn.size, loud).save(still)
        for swing in (academy / "students" / student / "swings").iterdir():
            with Image.open(swing) as drawn:
                Image.new("RGB", drawn.size, loud).save(swing, lossless=True)
    shutil.copytree(academy, folder / "all")
    family = Family(academy, folder / "site", request.param)
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("REPORTGEN_PASSPHRASE", MINE)
        if request.param:
            assert reportgen("members", "add", academy, "--all").exit_code == 0
        family.publish(code=0)
        found = family.pictured()
    assert found == {MIRO: {MIRO}, HENRIK: {HENRIK, MIRO}, "store": {MIRO, HENRIK}}
    return family


open_alone = pytest.mark.parametrize("_published", [False], indirect=True, ids=["open"])


@pytest.fixture
def family(_published: Family, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Family:
    """Henrik, beside one of whose pictures his son Miro's stands, and Miro; both published with pictures."""
    monkeypatch.setenv("REPORTGEN_PASSPHRASE", MINE)
    own = Family(tmp_path / "academy", tmp_path / "site", _published.sealed)
    for name in ("academy", "site", "all"):
        shutil.copytree(_published.academy.parent / name, tmp_path / name)
    if own.sealed:
        shutil.copy2(keyring_of(_published.academy), keyring_of(own.academy))
    return own


def _his_folder_goes(family: Family) -> None:
    shutil.rmtree(family.academy / "students" / MIRO)


def _sharing_ends(family: Family) -> None:
    family.change(MIRO, "shares_with: .*\n", "")


def _leave_is_taken_back(family: Family) -> None:
    family.take_back(MIRO)


def _while_an_old_sheet_of_his_is_broken(family: Family) -> None:
    family.take_back(MIRO)
    family.break_sheet(MIRO)


def _while_a_sheet_of_whom_he_is_beside_is_broken(family: Family) -> None:
    family.take_back(MIRO)
    family.break_sheet(HENRIK)


def _his_file_becomes_unreadable(family: Family) -> None:
    family.change(MIRO, "pictures: {", "pictures: {{")


@pytest.mark.parametrize(
    ("happens", "his_own_stay"),
    [
        (_his_folder_goes, False),
        (_sharing_ends, True),
        (_leave_is_taken_back, False),
        (_while_an_old_sheet_of_his_is_broken, False),
        (_while_a_sheet_of_whom_he_is_beside_is_broken, False),
        (_his_file_becomes_unreadable, False),
    ],
)
def test_no_picture_of_him_stays(family: Family, happens: Callable[[Family], None], his_own_stay: bool) -> None:
    happens(family)
    said = family.publish()
    found = family.pictured()
    assert MIRO not in found[HENRIK]
    assert found[MIRO] <= ({MIRO} if his_own_stay else set())
    assert found["store"] <= ({MIRO, HENRIK} if his_own_stay else {HENRIK})
    assert f"Taken down: {HENRIK}, with pictures of {MIRO}, " in said


def test_swings_are_among_the_pictures_of_both(family: Family) -> None:
    swings = {student: len(list((family.academy / "students" / student / "swings").iterdir())) for student in LOUD}
    assert swings == {MIRO: 3, HENRIK: 2}
    if not family.sealed:
        areas = [area_of(family.site, name) for name in ("Miro", "Henrik")]
        assert all(list(area.rglob("*.webp")) for area in areas)


@open_alone
@pytest.mark.parametrize("how", [("--student", HENRIK), ("--jobs", "2")], ids=["one student", "two at once"])
def test_no_picture_of_him_stays_however_one_publishes(family: Family, how: tuple[str, ...]) -> None:
    family.take_back(MIRO)
    family.publish(*how, code=0)
    assert family.pictured() == {MIRO: set(), HENRIK: {HENRIK}, "store": {HENRIK}}


@open_alone
def test_it_happens_even_where_nothing_can_be_published(family: Family) -> None:
    family.take_back(MIRO)
    academy = family.academy / "academy.yaml"
    academy.write_text(academy.read_text(encoding="utf-8").replace("timezone:", "timezon:"), encoding="utf-8")
    said = family.publish(code=2)
    academy.write_text(academy.read_text(encoding="utf-8").replace("timezon:", "timezone:"), encoding="utf-8")
    assert family.pictured() == {MIRO: set(), HENRIK: set(), "store": set()}
    assert f"Taken down: {MIRO}, whose permission to show pictures was taken back." in said


@open_alone
def test_what_can_be_made_is_back_without_the_pictures_at_once(family: Family) -> None:
    family.take_back(MIRO)
    family.publish(code=0)
    assert family.pictured() == {MIRO: set(), HENRIK: {HENRIK}, "store": {HENRIK}}
    assert family.publish(code=0) == f"0 students made, 2 unchanged: {family.site}\n"


@open_alone
def test_the_desk_says_what_was_taken_down_and_why_until_the_sheet_is_mended(family: Family) -> None:
    family.take_back(MIRO)
    family.break_sheet(HENRIK)
    for _ in range(2):
        family.publish(code=1)
        assert "taken down: The permission of Miro Tavenhall to show pictures was taken back." in _desk(family)
    first = sheets(family.academy, HENRIK)[0]
    first.write_text(first.read_text(encoding="utf-8").replace("clubb:", "club:"), encoding="utf-8")
    family.publish(code=0)
    assert "taken down" not in _desk(family)
    assert family.pictured()[HENRIK] == {HENRIK}


def _desk(family: Family) -> str:
    return Page(family.site / "desk" / "index.html").text


@open_alone
def test_a_broken_sheet_alone_takes_no_pages_away(family: Family) -> None:
    family.break_sheet(MIRO)
    family.break_sheet(HENRIK)
    before = family.pictured()
    assert "Taken down" not in family.publish(code=1)
    assert family.pictured() == before


@open_alone
def test_where_no_note_is_left_of_kept_pages_they_go(family: Family) -> None:
    family.take_back(MIRO)
    family.break_sheet(HENRIK)
    shutil.rmtree(family.site / ".made" / "students")
    assert f"Taken down: {HENRIK}, whose sheets have problems, and of whose pages no note is left." in family.publish()
    assert family.pictured() == {MIRO: set(), HENRIK: set(), "store": set()}


@open_alone
def test_pages_that_a_killed_run_had_taken_aside_go_too(family: Family) -> None:
    family.take_back(MIRO)
    family.break_sheet(HENRIK)
    aside = family.site / ".made" / "old" / HENRIK
    aside.parent.mkdir(exist_ok=True)
    area_of(family.site, "Henrik").rename(aside)
    assert f"Taken down: {HENRIK}, with pictures of {MIRO}, " in family.publish()
    assert family.pictured() == {MIRO: set(), HENRIK: set(), "store": set()}


@open_alone
def test_lessons_that_were_deleted_leave_no_picture_in_the_store(family: Family) -> None:
    family.sheet(HENRIK).unlink()
    for sheet in sheets(family.academy, MIRO):
        sheet.unlink()
    family.publish(code=0)
    assert family.pictured() == {MIRO: set(), HENRIK: set(), "store": set()}

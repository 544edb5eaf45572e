"""A second look at the academy's own stills: what is offered, what is kept of it, and what it tells."""

import json
import re
from hashlib import sha256
from pathlib import Path

import pytest
from click.testing import Result

from reportgen.authoring.again import OFFERED
from tests.publishing.small import ROOT, contents, reportgen, small_academy

DUARTE, HENRIK, MIRO = "duarte-pemberlow", "henrik-tavenhall", "miro-tavenhall"
NAMES = ("Duarte", "Pemberlow", "Henrik", "Miro", "Tavenhall", DUARTE)


@pytest.fixture
def academy(tmp_path: Path) -> Path:
    return small_academy(tmp_path / "academy", DUARTE, HENRIK, MIRO, lessons=1)


def again(academy: Path, *more: str | Path) -> Result:
    return reportgen("again", academy, "--to", academy.parent / "again.html", *more)


def page_of(academy: Path, *more: str) -> str:
    ended = again(academy, *more)
    assert (ended.exit_code, ended.stderr) == (0, "")
    return (academy.parent / "again.html").read_text(encoding="utf-8")


def given(page: str) -> dict:
    return json.loads(re.search(r'<script type="application/json" id="given">(.*?)</script>', page, re.S)[1])


def asked(academy: Path, *more: str) -> list[dict]:
    return [file["again"] for file in given(page_of(academy, *more))["files"]]


def marked(academy: Path, apart: float = 2.0, by: str | None = None, day: str = "2026-11-28", most: int = 99) -> Path:
    """What the page hands over after somebody has set every point, each `apart` pixels or its opposite from where it
    stands in the sheet."""
    lines, seed = [f"date: {day}", *([f"marked_by: {by}"] if by else []), "stills:"], 0
    for one in asked(academy)[:most]:
        lines += [f"  - picture: {one['picture']}", "    marks:"]
        for mark in one["asked"]:
            seed += 1
            x, y = places(academy, one["picture"])[mark]
            off = apart if int(sha256(f"{by}{day}{seed}".encode()).hexdigest(), 16) % 2 else -apart
            lines.append(f"      {mark}: [{x + off}, {y - off}]")
    file = academy.parent / f"{by}-{day}.yaml"
    file.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return file


def places(academy: Path, digest: str) -> dict[str, tuple[float, float]]:
    """The marks that the sheet has on the picture of that digest, read off its lines."""
    file = next(f for f in academy.glob("students/*/stills/*.png") if sha256(f.read_bytes()).hexdigest() == digest)
    (sheet,) = (file.parents[1] / "lessons").glob("*.yaml")
    block = sheet.read_text(encoding="utf-8").split(f"stills/{file.name}", 1)[1].split("- file:", 1)[0]
    found = re.findall(r"([a-z-]+): \[([\d.]+), ([\d.]+)\]", block.split("marks:", 1)[1])
    return {mark: (float(x), float(y)) for mark, x, y in found}


# what is offered


def test_twelve_stills_of_several_students_are_offered(academy: Path) -> None:
    files = given(page_of(academy))["files"]
    assert len(files) == OFFERED
    pictures = {sha256(file.read_bytes()).hexdigest(): file for file in academy.glob("students/*/stills/*.png")}
    assert {pictures[file["again"]["picture"]].parents[1].name for file in files} == {DUARTE, HENRIK, MIRO}


def test_neither_a_name_nor_an_earlier_mark_is_in_the_page(academy: Path) -> None:
    page = page_of(academy)
    told = re.sub(r'"data": ?"[^"]*"', "", page)
    assert [name for name in NAMES if name in told] == []
    assert all(
        set(file["again"]) == {"view", "checkpoint", "plays", "asked", "picture"} for file in given(page)["files"]
    )
    assert not re.search(r"\[\d+\.\d, ?\d+\.\d\]", told)


def test_the_points_that_the_sheet_has_are_asked_for(academy: Path) -> None:
    for one in asked(academy):
        assert set(one["asked"]) == places(academy, one["picture"]).keys()


def test_the_page_knows_who_marks_and_the_instructor_needs_no_name(academy: Path) -> None:
    assert given(page_of(academy, "--by", "Ada"))["again"] == {"marked_by": "Ada"}
    own = re.search(r"instructor:.*?name: ([^\n,}]+)", (academy / "academy.yaml").read_text(encoding="utf-8"), re.S)[1]
    assert given(page_of(academy, "--by", own))["again"] == {"marked_by": None}


def test_a_student_whose_pictures_were_withdrawn_is_not_offered(academy: Path) -> None:
    student = academy / "students" / MIRO / "student.yaml"
    text = re.sub(r"^pictures:.*\n(  .*\n)*", "", student.read_text(encoding="utf-8"), flags=re.MULTILINE)
    gone = "pictures: {given_by: Henrik Tavenhall, given_on: 2026-09-05, withdrawn_on: 2026-11-20}\n"
    student.write_text(f"{text}\n{gone}", encoding="utf-8")
    miros = {sha256(file.read_bytes()).hexdigest() for file in (academy / "students" / MIRO / "stills").iterdir()}
    assert {one["picture"] for one in asked(academy)} & miros == set()


def test_leave_that_was_never_given_is_not_needed(academy: Path) -> None:
    for student in academy.glob("students/*/student.yaml"):
        text = re.sub(r"^pictures:.*\n(  .*\n)*", "", student.read_text(encoding="utf-8"), flags=re.MULTILINE)
        student.write_text(text, encoding="utf-8")
    assert len(asked(academy)) == OFFERED


def test_without_a_marked_still_that_is_said_and_nothing_is_written(tmp_path: Path) -> None:
    academy = small_academy(tmp_path / "academy", "petra-lumsgate", lessons=1)
    ended = again(academy)
    assert ended.exit_code == 2
    assert ended.stderr.startswith("No still can be marked again: it needs marks, a scale")
    assert not (tmp_path / "again.html").exists()


def test_a_second_round_offers_the_stills_of_the_first(academy: Path) -> None:
    again(academy, "--read", marked(academy, most=3))
    first = [one["picture"] for one in asked(academy)][:3]
    kept = next((academy / "rounds").iterdir()).read_text(encoding="utf-8")
    files = re.findall(r'student: (\S+)\n    lesson: \S+\n    file: "\.\./stills/(.*)"', kept)
    assert {
        sha256((academy / "students" / who / "stills" / name).read_bytes()).hexdigest() for who, name in files
    } == set(first)


# what is kept


def test_what_was_marked_is_kept_as_a_file_that_check_finds_sound(academy: Path) -> None:
    before = contents(academy)
    ended = again(academy, "--read", marked(academy, by="Ada"))
    assert ended.exit_code == 0, ended.output
    place = academy / "rounds" / "2026-11-28-ada.yaml"
    assert ended.stdout.splitlines()[0] == str(place)
    assert contents(academy).keys() - before.keys() == {"rounds/2026-11-28-ada.yaml"}
    assert reportgen("check", academy).exit_code == 0
    assert place.read_text(encoding="utf-8").startswith('date: 2026-11-28\nmarked_by: "Ada"\nstills:\n  - student: ')


def test_two_rounds_of_a_day_are_two_files(academy: Path) -> None:
    again(academy, "--read", marked(academy))
    again(academy, "--read", marked(academy, apart=1.0))
    assert sorted(file.name for file in (academy / "rounds").iterdir()) == ["2026-11-28-2.yaml", "2026-11-28.yaml"]


def test_the_same_round_is_not_kept_twice(academy: Path) -> None:
    again(academy, "--read", marked(academy))
    ended = again(academy, "--read", marked(academy))
    assert ended.exit_code == 2
    assert ended.stderr.strip().endswith("is kept already, as rounds/2026-11-28.yaml.")


def test_a_picture_that_nobody_has_any_more_is_left_out_and_counted(academy: Path) -> None:
    handed = marked(academy)
    for still in (academy / "students" / MIRO / "stills").iterdir():
        still.unlink()
    ended = again(academy, "--read", handed)
    assert "Left out: 4 of its pictures" in ended.stderr
    assert MIRO not in (academy / "rounds" / "2026-11-28.yaml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("date: 2026-11-28\nstills: []\n", ":2:9: stills has 0 items"),
        ("date: tomorrow\nstills:\n  - {picture: ab, marks: {}}\n", ":1:7: date is not a date"),
        (f"date: 2026-11-28\nstills:\n  - {{picture: {'0' * 64}, marks: {{neck: [1, 2]}}}}\n", ": none of its"),
        ("", ":1:1: the file is empty"),
    ],
)  # fmt: skip
def test_a_file_that_is_none_is_told_and_nothing_is_kept(academy: Path, text: str, says: str) -> None:
    file = academy.parent / "odd.yaml"
    file.write_text(text, encoding="utf-8")
    ended = again(academy, "--read", file)
    assert ended.exit_code == 2
    assert f"{file}{says}" in ended.stderr
    assert not (academy / "rounds").exists()


def test_a_round_makes_no_page_again(academy: Path) -> None:
    site = academy.parent / "site"
    reportgen("publish", academy, "--to", site)
    again(academy, "--read", marked(academy))
    assert reportgen("publish", academy, "--to", site).stdout.startswith("0 students made, 3 unchanged")


# what it tells


def test_one_round_by_the_instructor_gives_still_and_visit_and_says_what_is_not_known(academy: Path) -> None:
    ended = again(academy, "--read", marked(academy))
    assert "12 pictures were marked twice by one person, 0 by two." in ended.stdout
    assert re.search(r"^  (still_mm|click_px): \d+\.\d  # \d+\.\d to \d+\.\d; ", ended.stdout, re.MULTILINE)
    assert "Habit is not known yet: one person has marked these pictures." in ended.stdout


def test_a_round_by_somebody_else_gives_habit(academy: Path) -> None:
    again(academy, "--read", marked(academy))
    said = again(academy, "--read", marked(academy, apart=12.0, by="Ada", day="2026-11-30")).stdout
    assert "12 pictures were marked twice by one person, 12 by two." in said
    assert re.search(r"^  (# )?habit_mm: ", said, re.MULTILINE)
    assert "habit_mm is only how two people differ." in said
    assert again(academy, "--figures").stdout in said


def test_the_lines_can_be_pasted_into_academy_yaml(academy: Path) -> None:
    again(academy, "--read", marked(academy))
    said = again(academy, "--read", marked(academy, apart=14.0, by="Ada", day="2026-11-30")).stdout
    lines = said.split("interval:\n", 1)[1].split("\n\n", 1)[0]
    file = academy / "academy.yaml"
    text = re.sub(r"^marking:.*\n(  .*\n)*", "", file.read_text(encoding="utf-8"), flags=re.MULTILINE)
    file.write_text(f"{text}\n{lines}\n", encoding="utf-8")
    assert reportgen("check", academy).exit_code == 0


def test_too_little_is_said_to_be_too_little(academy: Path) -> None:
    ended = again(academy, "--read", marked(academy, most=1))
    assert "That is not enough." in ended.stdout
    assert "marking:" not in ended.stdout


def test_two_looks_alike_to_the_digit_are_said_to_be_none(academy: Path) -> None:
    """Somebody has copied the marks of the sheet."""
    ended = again(academy, "--read", marked(academy, apart=0.0))
    assert "The two looks are alike to a twentieth of a pixel" in ended.stdout
    assert "marking:" not in ended.stdout


def test_reading_and_figures_are_one_wish_too_many(academy: Path) -> None:
    assert again(academy, "--read", marked(academy), "--figures").exit_code == 2


def test_a_round_that_is_wrong_is_told_in_place_of_figures(academy: Path) -> None:
    again(academy, "--read", marked(academy))
    file = academy / "rounds" / "2026-11-28.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace(DUARTE, "duarte-pemberlo", 1), encoding="utf-8")
    ended = again(academy, "--figures")
    assert ended.exit_code == 2
    assert re.match(r"rounds/2026-11-28.yaml:\d+:14: there is no student duarte-pemberlo\. Did you mean", ended.stderr)


def test_the_demo_has_no_round_of_its_own() -> None:
    assert not (ROOT / "examples" / "academy" / "rounds").exists()

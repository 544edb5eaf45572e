"""The pictures of a lesson and what stands beside them: an earlier lesson, or somebody who learns alongside."""

import pytest

from reportgen.pipeline import load
from tests.judging.academies import ID, tell_folder, write_academy
from tests.measuring.drawn import CAMERAS, POSES, block, stills, write_pictures

BO = "bo-invented"
FIRST, SECOND, THIRD = "2026-03-05", "2026-03-12", "2026-03-19"
FACE_ON, DOWN = ([camera] for camera in CAMERAS)
IMPACT = {"impact": POSES["impact"]}
SHARES = f"shares_with: [{BO}]"
LEAVE = "pictures: {given_by: A Parent, given_on: 2026-01-01}"


def academy(root, lessons, bo=None, student=f"born: 1986-05-01\n{LEAVE}", bos=f"born: 1990-01-01\nshares_with: [{ID}]"):
    """The academy of Ines, with Bo where `bo` is given. `lessons` and `bo` map days to stills and the rest of the
    sheet; `student` and `bos` are the texts of the student files without name and side."""
    sheets = {day: block(marked) + text for day, (marked, text) in lessons.items()}
    write_academy(root, sheets, student)
    for marked, _ in lessons.values():
        write_pictures(root / "students" / ID / "lessons", marked)
    if bo is not None:
        folder = root / "students" / BO
        (folder / "lessons").mkdir(parents=True)
        (folder / "student.yaml").write_text(f"name: Bo Secondname\nplays: right\n{bos}\n", encoding="utf-8")
        for day, (marked, text) in bo.items():
            write_pictures(folder / "lessons", marked)
            sheet = f"student: {BO}\ndate: {day}\nclub: 7-iron\n{block(marked)}{text}"
            (folder / "lessons" / f"{day}.yaml").write_text(sheet, encoding="utf-8")
    return load(root)


def reports(folder):
    assert [str(problem) for problem in folder.problems] == []
    return tell_folder(folder)


def beside(report):
    """What stands beside each picture, by view and checkpoint."""
    return {(p.view, p.checkpoint): p.beside for p in report.pictures}


def test_the_first_lesson_has_nothing_beside(tmp_path):
    (report,) = reports(academy(tmp_path, {FIRST: (stills(), "")}))
    assert len(report.pictures) == 6
    assert set(beside(report).values()) == {None}
    assert all(picture.still for picture in report.pictures)


def test_beside_stands_the_latest_lesson_that_has_this_view_of_this_moment(tmp_path):
    lessons = {FIRST: (stills(), ""), SECOND: (stills(cameras=FACE_ON), ""), THIRD: (stills(), "")}
    *_, third = reports(academy(tmp_path, lessons))
    captions = {key: shot.caption for key, shot in beside(third).items()}
    assert {caption for (view, _), caption in captions.items() if view == "face-on"} == {"On 12 March"}
    assert {caption for (view, _), caption in captions.items() if view == "down-the-line"} == {"On 5 March"}


def test_another_view_or_another_moment_is_not_put_beside(tmp_path):
    lessons = {FIRST: (stills(IMPACT, DOWN), ""), SECOND: (stills({"top": POSES["top"]}, FACE_ON), "")}
    lessons[THIRD] = (stills(IMPACT, FACE_ON), "")
    *_, third = reports(academy(tmp_path, lessons))
    assert beside(third) == {("face-on", "impact"): None}


def test_the_words_of_a_picture_say_what_is_marked_on_it(tmp_path):
    (report,) = reports(academy(tmp_path, {FIRST: (stills(IMPACT), "")}))
    shot = report.pictures[0].still
    assert shot.alt.startswith("Ines at impact, seen face-on. Marked on it: ")
    assert all(stroke.says in shot.alt for stroke in shot.strokes if stroke.says)
    assert 1 <= sum(stroke.says is not None for stroke in shot.strokes) <= 3


COMPARED = f"compare: {{student: {BO}, date: {FIRST}}}\n"


def test_whom_the_student_learns_alongside_stands_beside_in_the_place_of_an_earlier_lesson(tmp_path):
    lessons = {FIRST: (stills(), ""), SECOND: (stills(), COMPARED)}
    bos = f"born: 1990-01-01\nshares_with: [{ID}]\n{LEAVE}"
    folder = academy(tmp_path, lessons, {FIRST: (stills(IMPACT), "")}, SHARES_AND_BORN, bos)
    first, second = reports(folder)
    other = {key: shot for key, shot in beside(second).items() if shot}
    assert other.keys() == {("face-on", "impact"), ("down-the-line", "impact")}
    for shot in other.values():
        assert shot.file.startswith(f"students/{BO}/stills/")
        assert shot.caption == "Learning alongside"
        assert "Bo" not in shot.alt + shot.caption
        assert "Ines" not in shot.alt
    assert set(beside(first).values()) == {None}


SHARES_AND_BORN = f"born: 1986-05-01\n{SHARES}\n{LEAVE}"


def compared(root, **more):
    """The picture of Ines's impact beside which Bo's should stand."""
    folder = academy(
        root, {SECOND: (stills(IMPACT, FACE_ON), COMPARED)}, {FIRST: (stills(IMPACT), "")}, SHARES_AND_BORN, **more
    )
    return reports(folder)[0].pictures[0]


@pytest.mark.parametrize(
    ("bos", "shown"),
    [
        ("born: 2013-05-01", False),
        (f"born: 2013-05-01\n{LEAVE}", True),
        ("born: 2013-05-01\n" + LEAVE.replace("}", ", withdrawn_on: 2026-03-10}"), False),
        ("born: 1990-05-01\n" + LEAVE.replace("}", ", withdrawn_on: 2026-03-10}"), False),
        ("born: 1990-05-01", False),
        (f"born: 1990-05-01\n{LEAVE}", True),
    ],
    ids=["a minor", "a minor with leave", "leave taken back", "an adult who took leave back", "an adult", "with leave"],
)
def test_the_others_picture_is_shown_only_where_it_may_be(bos, shown, tmp_path):
    picture = compared(tmp_path, bos=f"{bos}\nshares_with: [{ID}]")
    assert (picture.beside is not None) is shown
    assert picture.still is not None


def test_a_student_whose_pictures_are_withheld_shows_neither_theirs_nor_the_others(tmp_path):
    lessons = {SECOND: (stills(IMPACT, FACE_ON), COMPARED)}
    folder = academy(tmp_path, lessons, {FIRST: (stills(IMPACT), "")}, f"born: 2013-05-01\n{SHARES}")
    (picture,) = reports(folder)[0].pictures
    assert (picture.still, picture.beside) == (None, None)
    assert "guardian" in picture.withheld


@pytest.mark.parametrize(
    ("student", "bos", "text", "at", "says"),
    [
        (SHARES_AND_BORN, "born: 1990-01-01", COMPARED, "student: ", "do not both share their pictures"),
        ("born: 1986-05-01", f"born: 1990-01-01\nshares_with: [{ID}]", COMPARED, "student: ", "do not both share"),
        ("born: 1986-05-01", "born: 1990-01-01", COMPARED, "student: ", "do not both share"),
        (SHARES_AND_BORN, f"born: 1990-01-01\nshares_with: [{ID}]", COMPARED.replace(FIRST, THIRD), "date: ",
         f"{BO} has no lesson on {THIRD}"),
        (SHARES_AND_BORN, "born: 1990-01-01", COMPARED.replace(BO, "bo-inventd"), "student: ",
         "there is no other student 'bo-inventd'"),
        (SHARES_AND_BORN, "born: 1990-01-01", COMPARED.replace(BO, ID), "student: ",
         "compare names the student whose lesson this is"),
    ],
    ids=["the other does not", "the student does not", "neither does", "no such lesson", "nobody", "oneself"],
)  # fmt: skip
def test_a_comparison_that_may_not_be_is_a_problem_at_its_line(student, bos, text, at, says, tmp_path):
    folder = academy(tmp_path, {SECOND: (stills(IMPACT, FACE_ON), text)}, {FIRST: (stills(IMPACT), "")}, student, bos)
    (problem,) = folder.problems
    line = (tmp_path / problem.path).read_text(encoding="utf-8").splitlines()[problem.line - 1]
    assert line == text.strip()
    assert problem.column == line.index(at) + len(at) + 1
    assert says in problem.wrong


def test_one_student_read_alone_brings_along_whom_they_are_compared_with(tmp_path):
    bos = f"born: 1990-01-01\nshares_with: [{ID}]\n{LEAVE}"
    lessons, bo = {SECOND: (stills(IMPACT, FACE_ON), COMPARED)}, {FIRST: (stills(IMPACT), "")}
    academy(tmp_path, lessons, bo, SHARES_AND_BORN, bos)
    folder = load(tmp_path, ID)
    assert set(folder.students) == {ID, BO}
    assert reports(folder)[0].pictures[0].beside is not None

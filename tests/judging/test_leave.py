"""No picture of anybody without leave: whoever it is, whichever sheet names the picture."""

import pytest

from reportgen.pipeline import load
from tests.judging.academies import ID, tell_folder, write_academy
from tests.judging.test_pictures import BO, DOWN, FACE_ON, IMPACT, LEAVE, SECOND
from tests.measuring.drawn import block, stills, write_pictures

BORN = "born: 1986-05-01"
TODAY, TOMORROW = "2026-11-25", "2026-11-26"
"""The day of all tests, and the day after it."""


def shown(root, student):
    """The one picture of Ines's lesson; `student` is the text of her file."""
    (picture,) = _judged(_academy(root, student), ID).pictures
    return picture


def _academy(root, student, still=None):
    marked = [still or stills(IMPACT, FACE_ON)[0]]
    write_academy(root, {SECOND: block(marked)}, student)
    write_pictures(root / "students" / ID / "lessons", marked)
    return root


def _judged(root, student):
    folder = load(root)
    assert [str(problem) for problem in folder.problems] == []
    return tell_folder(folder, student)[-1]


@pytest.mark.parametrize(
    ("student", "says"),
    [
        ("born: 1986-05-01", "only with your permission, and none is on file"),
        ("born: 2013-05-01", "only with a guardian’s permission, and none is on file"),
        (f"born: 1986-05-01\n{LEAVE.replace('}', ', withdrawn_on: 2026-03-13}')}", "taken back"),
    ],
    ids=["an adult", "a minor", "taken back"],
)
def test_without_leave_no_picture_is_shown_and_the_page_says_why(student, says, tmp_path):
    picture = shown(tmp_path, student)
    assert (picture.still, picture.beside) == (None, None)
    assert says in picture.withheld_says


def test_leave_given_today_counts(tmp_path):
    leave = LEAVE.replace("2026-01-01", TODAY)
    assert shown(tmp_path, f"{BORN}\n{leave}").still is not None


def test_leave_of_tomorrow_is_a_problem(tmp_path):
    leave = LEAVE.replace("2026-01-01", TOMORROW)
    folder = load(_academy(tmp_path, f"{BORN}\n{leave}"))
    assert [str(problem) for problem in folder.problems] == [
        f"students/{ID}/student.yaml:4:42: the leave is given on a day that is still to come, so there is none yet. "
        "Write the day on which it was given."
    ]


BORROWED = {**stills(IMPACT, FACE_ON)[0], "file": f"../../{BO}/stills/impact-face-on.png"}


def _borrowing(root, ines, bo):
    """Ines's sheet names a picture that lies in Bo's folder."""
    _academy(root, ines, BORROWED)
    (root / "students" / BO / "student.yaml").write_text(f"name: Bo Secondname\nplays: right\n{bo}\n", encoding="utf-8")
    return root


SHARES = {ID: f"shares_with: [{BO}]", BO: f"shares_with: [{ID}]"}


@pytest.mark.parametrize("silent", [ID, BO])
def test_a_picture_in_anothers_folder_needs_both_to_share(silent, tmp_path):
    ines, bo = (f"{BORN}\n{LEAVE}" + ("" if name == silent else f"\n{SHARES[name]}") for name in (ID, BO))
    (problem,) = load(_borrowing(tmp_path, ines, bo)).problems
    assert (problem.path, problem.line) == (f"students/{ID}/lessons/{SECOND}.yaml", 5)
    assert problem.wrong == f"the picture lies in the folder of {BO}, and the two do not both share their pictures"


@pytest.mark.parametrize(
    ("leave_of", "is_shown"), [((ID, BO), True), ((ID,), False), ((BO,), False)], ids=["both", "hers", "the other's"]
)
def test_a_picture_in_anothers_folder_needs_the_leave_of_both(leave_of, is_shown, tmp_path):
    ines, bo = (f"{BORN}\n{SHARES[name]}" + (f"\n{LEAVE}" if name in leave_of else "") for name in (ID, BO))
    report = _judged(_borrowing(tmp_path, ines, bo), ID)
    assert [picture.still is not None for picture in report.pictures] == [is_shown]
    assert report.findings != ()


def test_a_link_in_her_own_folder_leads_to_whose_picture_it_is(tmp_path):
    root = _borrowing(tmp_path, f"{BORN}\n{SHARES[ID]}\n{LEAVE}", f"{BORN}\n{SHARES[BO]}")
    own = root / "students" / ID / "stills" / "mine.png"
    own.parent.mkdir()
    own.symlink_to(root / "students" / BO / "stills" / "impact-face-on.png")
    sheet = root / "students" / ID / "lessons" / f"{SECOND}.yaml"
    sheet.write_text(sheet.read_text(encoding="utf-8").replace(BORROWED["file"], "../stills/mine.png"), "utf-8")
    (picture,) = _judged(root, ID).pictures
    assert picture.still is None
    assert "of the player in this picture" in picture.withheld_says


def test_a_picture_in_nobodys_folder_is_a_problem(tmp_path):
    still = {**stills(IMPACT, DOWN)[0], "file": "../../../pictures/impact.png"}
    (problem,) = load(_academy(tmp_path, f"{BORN}\n{LEAVE}", still)).problems
    assert problem.wrong == "the picture lies in no student's folder: whose leave counts for it?"

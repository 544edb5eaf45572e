"""The test of a drill, wherever the drill is shown: a student who practises alone knows whether it works."""

import re
import subprocess
from html import unescape
from pathlib import Path

import pytest

from reportgen.pages.cards import cards_pdf
from reportgen.pages.drill_library import library_pages
from reportgen.pages.student_site import student_site
from reportgen.pipeline import load
from reportgen.sheets.academy_folder import sound
from tests.judging.academies import library, reading, sheet, tell_folder, write_academy

DRILL, BEFORE = "toes-free", "light-lead-toes"
TEST = (
    "Count 10 in a row (a short iron). A ball counts when your toes are still free at the end. You pass with 7 or more."
)
CAME_TO = "8 of 10 at home on 3 March: passed. Once can be luck, so count again on another day."
OF_BEFORE = "Test of an earlier drill Light lead toes. 3 of 10 at home on 2 March: not passed yet."
LOG = (
    f"practice_log: [{{date: 2026-03-03, test: {{drill: {DRILL}, made: 8}}}}, "
    f"{{date: 2026-03-02, test: {{drill: {BEFORE}, made: 3}}}}]"
)


@pytest.fixture(scope="module")
def home(tmp_path_factory):
    root = tmp_path_factory.mktemp("academy")
    given = sheet(reading("pelvis-open-impact", 75, u=1), f"drills: [{DRILL}]", LOG)
    return load(write_academy(root, {"2026-03-05": given}))


@pytest.fixture(scope="module")
def files(home):
    return student_site(tell_folder(home), sound(home))


def text_of(page):
    """What a page says, without its pictures."""
    without = re.sub(r"<(style|svg)\b.*?</\1>", " ", page.decode(), flags=re.S)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", without)).split())


def printed(pdf, tmp_path):
    file = tmp_path / "printed.pdf"
    file.write_bytes(pdf)
    return " ".join(subprocess.run(["pdftotext", file, "-"], check=True, capture_output=True, text=True).stdout.split())


@pytest.mark.parametrize("page", ["index.html", "2026-03-05/index.html"])
def test_the_test_stands_after_the_week_with_what_its_counts_have_come_to(files, page):
    after = text_of(files[page]).split("Your week")[-1]
    assert f"so do no extra ones. Toes free {TEST} {CAME_TO} {OF_BEFORE}" in after


def test_the_drills_own_page_has_it_too(files):
    assert f"Test {TEST} {CAME_TO}" in text_of(files[f"drills/{DRILL}.html"])


def test_the_recap_has_it(files, tmp_path):
    recap = printed(files["2026-03-05/recap.pdf"], tmp_path)
    assert f"Toes free {TEST} {CAME_TO}" in recap
    assert OF_BEFORE in recap


def test_the_library_has_it(home):
    assert f"Test {TEST}" in text_of(library_pages(sound(home))[f"{DRILL}.html"])


def test_a_card_has_it(home, tmp_path):
    assert f"Test {TEST}" in printed(cards_pdf([library().drills[DRILL]], sound(home)), tmp_path)


def test_a_dose_too_small_for_the_test_still_tells_what_its_counts_have_come_to(tmp_path):
    small = f"drills: [{{drill: {DRILL}, dose: 1 x 4 easy}}]"
    home = load(write_academy(tmp_path, {"2026-03-05": sheet(reading("pelvis-open-impact", 75, u=1), small, LOG)}))
    page = text_of(student_site(tell_folder(home), sound(home), recaps=False)["2026-03-05/index.html"])
    assert f"Toes free {CAME_TO}" in page
    assert "in a row" not in page


def test_a_drill_without_a_test_is_shown_without_one(tmp_path):
    text = (Path("content") / "drills" / f"{DRILL}.md").read_text(encoding="utf-8")
    (tmp_path / "drills").mkdir()
    own = re.sub(r"(?m)^test:\n(?: .*\n)+", "", text)
    (tmp_path / "drills" / f"{DRILL}.md").write_text(own, encoding="utf-8")
    given = sheet(reading("pelvis-open-impact", 75, u=1), f"drills: [{DRILL}]")
    home = load(write_academy(tmp_path, {"2026-03-05": given}))
    files = student_site(tell_folder(home), sound(home), recaps=False)
    for page in ("index.html", "2026-03-05/index.html", f"drills/{DRILL}.html"):
        assert "Toes free" in text_of(files[page])
        assert not re.search(r"\bTest\b|How you know", text_of(files[page]))

"""What was seen at setup, wherever a lesson is told."""

import pytest

from reportgen.pages.student_site import student_site
from reportgen.pipeline import load
from reportgen.sheets.academy_folder import sound
from tests.judging.academies import ID, reading, sheet, tell_folder, write_academy
from tests.pages.test_drill_tests import printed, text_of
from tests.publishing.small import reportgen

FIRST = "setup: [{what: grip, word: strong}]"
NOW = "setup: [{what: grip, word: neutral, note: Look at it in the mirror.}, {what: aim, value: 4, unit: deg}]"
LINE = "At set-up: grip neutral (last time, on 5 March: strong); aim 4° to the trail side."


@pytest.fixture(scope="module")
def root(tmp_path_factory):
    measured = reading("pelvis-open-impact", 75, u=1)
    lessons = {"2026-03-05": sheet(measured, FIRST), "2026-03-12": sheet(measured, NOW)}
    return write_academy(tmp_path_factory.mktemp("academy"), lessons)


@pytest.fixture(scope="module")
def files(root):
    home = load(root)
    return student_site(tell_folder(home), sound(home))


def test_the_glance_has_it_at_setup(files):
    glance = text_of(files["2026-03-12/index.html"]).split("The swing at a glance")[1]
    assert glance.strip().startswith("Set-up observed Grip: neutral Aim: 4° to the trail side Takeaway not measured")


def test_the_page_lists_it_with_what_it_means_and_the_note(files):
    page = text_of(files["2026-03-12/index.html"])
    assert (
        "Set-up Grip neutral last time, on 5 March: strong Your palms face each other. The lines "
        "between thumb and forefinger point between your chin and your trail shoulder. Look at it in the mirror. "
        "Aim 4° to the trail side The angle between a stick along your toes and the target line."
    ) in page


def test_the_recap_says_it_in_a_line(files, tmp_path):
    assert LINE in printed(files["2026-03-12/recap.pdf"], tmp_path)


def test_the_terminal_says_it_in_a_line(root):
    assert LINE in " ".join(reportgen("findings", root, ID).stdout.split())


def test_a_lesson_without_it_says_nothing_of_it(tmp_path):
    home = load(write_academy(tmp_path, {"2026-03-05": sheet(reading("pelvis-open-impact", 75, u=1))}))
    page = text_of(student_site(tell_folder(home), sound(home), recaps=False)["2026-03-05/index.html"])
    assert "Set-up not measured" in page

"""A student whose sheet names a table in another's folder is made anew when that folder changes."""

import pytest

from reportgen.publishing.student_job import leans_on
from reportgen.sheets.academy_folder import load_academy
from tests.sheets.academies import ACADEMY, LESSON, LESSON_FILE, make_academy


@pytest.mark.parametrize(
    "named", ["readings_from: {file: ../../bo-e/a.csv}\n", "shots_from: [{file: ../../bo-e/a.csv}]\n"]
)
def test_a_table_in_anothers_folder_is_leaned_on(named, tmp_path):
    files = {
        "academy.yaml": f"{ACADEMY}columns: {{ball-speed: {{column: Ball, unit: mph}}}}\n",
        "students/bo-e/student.yaml": "name: Bo Ek\nborn: 1980-01-01\nplays: left\n",
        "students/bo-e/a.csv": "Ball\n121\n",
        LESSON_FILE: LESSON + named,
    }
    folder = load_academy(make_academy(tmp_path, files))
    assert folder.problems == []
    assert leans_on(folder.students["mara-l"], tmp_path) == {"bo-e"}

"""The line and column of a problem lead to the very letter that is wrong, wherever the sheet puts it."""

import pytest

from reportgen.sheets.academy_folder import load_academy
from reportgen.sheets.drill_files import read_drill
from tests.sheets.academies import LESSON, LESSON_FILE, make_academy, write

READING = "{metric: pelvis-open-impact, value: 48, unit: WRONG, how: by-eye}"
BLOCK = "metric: pelvis-open-impact\n    value: 48\n    unit: WRONG\n    how: by-eye"
STYLES = {
    "braces in a block list": f"readings:\n  - {READING}\n",
    "a block in a block list": f"readings:\n  - {BLOCK}\n",
    "a list at the margin": f"readings:\n- {READING}\n",
    "brackets in one line": f"readings: [{READING}]\n",
    "brackets over several lines": f"readings: [\n  {READING},\n]\n",
    "in quotes": f"readings:\n  - {READING}\n".replace("WRONG", '"WRONG"'),
    "after comments and empty lines": f"# one\n\nreadings:   # two\n\n  # three\n  - {READING}   # four\n",
    "after a text of many lines": f"notes: |\n  One.\n\n  Two.\nreadings:\n  - {READING}\n",
    "after a folded text": f"notes: >-\n  One\n  two.\nreadings:\n  - {READING}\n",
    "after a text in quotes over two lines": f'notes: "One\n  two."\nreadings:\n  - {READING}\n',
    "as the fourth of four": "readings:\n"
    + "".join(
        f"  - {{metric: {m}, value: 4, unit: deg, how: sensor}}\n" for m in ("side-bend-impact", "separation-top")
    )
    + f"  - {READING}\n",
}


@pytest.mark.usefixtures("library_read_once")
@pytest.mark.parametrize("written", [pytest.param(text, id=name) for name, text in STYLES.items()])
def test_a_wrong_unit_is_told_where_it_stands(written, tmp_path):
    sheet = LESSON + written
    (problem,) = load_academy(make_academy(tmp_path, {LESSON_FILE: sheet})).problems
    line = sheet.splitlines()[problem.line - 1]
    assert line[problem.column - 1 :].startswith(('"WRONG"', "WRONG"))
    assert problem.wrong == "the unit 'WRONG' is not known"


@pytest.mark.usefixtures("library_read_once")
@pytest.mark.parametrize("written", [pytest.param(text, id=name) for name, text in STYLES.items()])
def test_a_misspelt_key_is_told_where_it_stands(written, tmp_path):
    sheet = LESSON + written.replace("unit:", "unti:").replace("WRONG", "deg")
    (problem, *_) = load_academy(make_academy(tmp_path, {LESSON_FILE: sheet})).problems
    line = sheet.splitlines()[problem.line - 1]
    assert line[problem.column - 1 :].startswith("unti:")
    assert problem.mend == "Did you mean unit?"


@pytest.mark.parametrize("front", ["", "# a remark\n", "\n\n"])
def test_front_matter_of_a_drill_counts_from_the_top_of_the_file(front, tmp_path):
    text = f"---\n{front}id: own\ntitle: Own\nlevel: nine\n---\n## Set-up\nText.\n"
    file = write(tmp_path, "own.md", text)
    _, problems = read_drill(file, "drills/own.md")
    (problem,) = (p for p in problems if "level" in p.wrong)
    assert text.splitlines()[problem.line - 1][problem.column - 1 :] == "nine"

"""A template of the academy's own that is wrong: one line says where, and what was published stands."""

from pathlib import Path

import pytest

from reportgen.sheets.shipped import shipped
from tests.publishing.conftest import Small
from tests.publishing.small import contents, reportgen


def own_template(academy: Path, name: str, old: str, new: str) -> None:
    """A theme of one template, the shipped one with other words in a line."""
    text = (shipped("themes") / "letter" / name).read_text(encoding="utf-8")
    assert old in text
    (academy / "look").mkdir()
    (academy / "look" / name).write_text(text.replace(old, new), encoding="utf-8")
    sheet = academy / "academy.yaml"
    sheet.write_text(f"{sheet.read_text(encoding='utf-8')}\ntheme: look\n", encoding="utf-8")


WRONG = {
    "cut short": ("{% for line in serves %}", "{% for line %}", "expected token 'in'"),
    "misspelled name": ("in serves", "in servs", "'servs' is undefined"),
    "a file that is not there": ("{{ line }}", '{% include "nowhere.html" %}', "nowhere.html"),
}


@pytest.mark.parametrize("jobs", [1, 2])
@pytest.mark.parametrize("wrong", WRONG)
def test_a_template_that_is_wrong_is_told_with_file_and_line(small: Small, wrong: str, jobs: int) -> None:
    before = contents(small.site)
    old, new, said = WRONG[wrong]
    own_template(small.academy, "drill.html", old, new)
    done = reportgen("publish", small.academy, "--to", small.site, "--jobs", jobs)
    assert done.exit_code == 2
    assert f"{small.academy / 'look' / 'drill.html'}:25: the template is wrong: {said}" in done.output
    assert contents(small.site) == before

"""A begun lesson is a draft: it is no lesson until its writer takes the line out."""

from pathlib import Path

import pytest

from tests.publishing.small import PETRA, contents, link_only, reportgen, sheets, small_academy

SAYS = "a draft, so no lesson yet. When it is ready, take out the line draft: true."


@pytest.fixture
def academy(tmp_path: Path) -> Path:
    """Petra with a lesson and a begun second one."""
    academy = link_only(small_academy(tmp_path / "academy", PETRA))
    assert reportgen("begin", academy, PETRA, "2026-12-02").exit_code == 0
    return academy


@pytest.fixture
def without(tmp_path: Path) -> Path:
    """The same academy before the second was begun."""
    return link_only(small_academy(tmp_path / "without" / "academy", PETRA))


def test_it_is_not_published(academy: Path, without: Path, tmp_path: Path) -> None:
    for folder, site in ((academy, "site"), (without, "other")):
        made = reportgen("publish", folder, "--to", tmp_path / site)
        assert made.exit_code == 0, made.stderr
    pages = {path: data for path, data in contents(tmp_path / "site").items() if path.startswith("upload/")}
    assert pages == {path: data for path, data in contents(tmp_path / "other").items() if path.startswith("upload/")}


def test_what_is_missing_in_it_holds_up_nobody_and_is_told(academy: Path) -> None:
    checked = reportgen("check", academy)
    assert (checked.exit_code, checked.stdout) == (0, "No problems: 1 student, 1 lesson.\n")
    path = f"students/{PETRA}/lessons/2026-12-02.yaml"
    first, *missing = checked.stderr.splitlines()
    assert first == f"warning: {path}: {SAYS}"
    assert missing
    assert all(line.startswith(f"warning: {path}:") and line.endswith("(a draft)") for line in missing)


@pytest.mark.parametrize("typed", ["readings: [", "club: {", "date: 31 December", "focus: 'half a word"])
def test_half_a_value_makes_no_lesson_of_it(academy: Path, typed: str) -> None:
    with sheets(academy, PETRA)[-1].open("a", encoding="utf-8") as sheet:
        sheet.write(f"{typed}\n")
    assert reportgen("check", academy).exit_code == 0


def test_it_is_not_mailed(academy: Path, tmp_path: Path) -> None:
    asked = ("send", academy, "--student", PETRA, "--lesson", "2026-12-02", "--outbox", tmp_path / "out")
    told = reportgen(*asked)
    assert told.exit_code != 0
    assert not (tmp_path / "out").exists()


def test_a_lesson_that_goes_back_to_a_draft_is_taken_off_the_site(academy: Path, tmp_path: Path) -> None:
    site = tmp_path / "site"
    reportgen("publish", academy, "--to", site)
    last = sheets(academy, PETRA)[-2]
    assert any(last.stem in path for path in contents(site / "upload"))
    last.write_text(f"draft: true\n{last.read_text(encoding='utf-8')}", encoding="utf-8")
    assert reportgen("publish", academy, "--to", site).exit_code == 0
    assert not any(last.stem in path for path in contents(site / "upload"))


def test_begin_goes_on_with_the_draft_of_that_day(academy: Path) -> None:
    before = contents(academy)
    told = reportgen("begin", academy, PETRA, "2026-12-02")
    assert told.exit_code == 2
    assert f"students/{PETRA}/lessons/2026-12-02.yaml is a draft of that day already" in told.stderr
    assert contents(academy) == before


def test_somebody_with_nothing_but_a_draft_has_no_pages_and_is_told_why(academy: Path) -> None:
    for sheet in sheets(academy, PETRA)[:-1]:
        sheet.unlink()
    told = reportgen("findings", academy, PETRA)
    assert told.exit_code == 2
    assert "is a draft. Take out the line draft: true when the lesson is ready." in told.stderr

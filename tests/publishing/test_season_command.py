"""`reportgen season`: the desk's page about the academy as a whole."""

from pathlib import Path

from tests.publishing.small import contents, reportgen


def test_the_page_stands_on_the_desk_and_the_desk_leads_to_it_from_then_on(small):
    done = reportgen("season", small.academy, "--to", small.site)
    assert done.exit_code == 0
    assert done.stdout.strip() == str(small.site / "desk" / "season.html")
    assert "The season so far" in (small.site / "desk" / "season.html").read_text()
    assert reportgen("publish", small.academy, "--to", small.site).exit_code == 0
    assert 'href="season.html"' in (small.site / "desk" / "index.html").read_text()


def test_nothing_that_is_uploaded_changes(small):
    before = contents(small.site / "upload")
    reportgen("season", small.academy, "--to", small.site)
    assert contents(small.site / "upload") == before


def test_a_folder_without_a_publish_is_refused_in_one_line(small, tmp_path: Path):
    done = reportgen("season", small.academy, "--to", tmp_path / "empty")
    assert (done.exit_code, done.stdout) == (2, "")
    assert "Publish first" in done.stderr
    assert not (tmp_path / "empty").exists()

"""`findings` over all lessons of a student: a table, CSV for a spreadsheet, JSON for pandas."""

import csv
import io
import json
from pathlib import Path

import pytest

from tests.publishing.small import BETTINA, link_only, reportgen, small_academy


@pytest.fixture
def academy(tmp_path: Path) -> Path:
    """Bettina with two lessons."""
    return link_only(small_academy(tmp_path / "academy", BETTINA))


def test_csv_holds_a_row_for_each_value_of_each_lesson(academy):
    done = reportgen("findings", academy, BETTINA, "--csv")
    rows = list(csv.DictReader(io.StringIO(done.stdout)))
    assert done.exit_code == 0
    assert len({row["lesson"] for row in rows}) == 2
    assert all(float(row["low95"]) < float(row["value"]) < float(row["high95"]) for row in rows)


def test_json_of_all_lessons_tells_the_same_as_csv(academy):
    told = json.loads(reportgen("findings", academy, BETTINA, "--all", "--json").stdout)
    rows = list(csv.DictReader(io.StringIO(reportgen("findings", academy, BETTINA, "--csv").stdout)))
    assert [(one["lesson"], one["metric"]) for one in told] == [(row["lesson"], row["metric"]) for row in rows]


def test_the_table_of_all_lessons_has_a_column_for_each(academy):
    done = reportgen("findings", academy, BETTINA, "--all")
    assert done.exit_code == 0
    assert "2 lessons" in done.stdout.splitlines()[0]

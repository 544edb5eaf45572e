"""The shipped causes keep their promises: directed, honest about what they rest on, without a circle in the body."""

from graphlib import TopologicalSorter
from pathlib import Path

import pytest
import yaml

from reportgen.records.causes import SEEN, Cause, CauseFile
from reportgen.records.words import MOMENTS

CONTENT = Path(__file__).parents[2] / "content"


@pytest.fixture(scope="module")
def rows() -> list[Cause]:
    files = [yaml.safe_load(path.read_text(encoding="utf-8")) for path in sorted((CONTENT / "causes").glob("*.yaml"))]
    return [row for file in files for row in CauseFile.model_validate(file).causes]


@pytest.fixture(scope="module")
def moments() -> dict[str, int]:
    """The place of each metric's checkpoint in the swing."""
    files = [yaml.safe_load(path.read_text(encoding="utf-8")) for path in (CONTENT / "metrics").glob("*.yaml")]
    return {file["id"]: MOMENTS.index(file["checkpoint"]) for file in files}


def of_the_body(rows: list[Cause], moments: dict[str, int]) -> list[Cause]:
    return [row for row in rows if row.cause.what in moments and row.effect.what in moments]


def test_every_id_is_there_once(rows: list[Cause]) -> None:
    assert len({row.id for row in rows}) == len(rows)


def test_no_two_rows_say_the_same(rows: list[Cause]) -> None:
    said = [(row.cause, row.effect, row.clubs) for row in rows]
    assert [one for one in said if said.count(one) > 1] == []


def test_a_row_is_about_metrics_and_words_that_exist(rows: list[Cause], moments: dict[str, int]) -> None:
    assert {end.what for row in rows for end in (row.cause, row.effect)} <= {*SEEN, *moments}


def test_every_word_is_in_a_row(rows: list[Cause]) -> None:
    assert {*SEEN} <= {end.what for row in rows for end in (row.cause, row.effect)}


def test_a_row_from_the_body_to_club_or_body_says_that_teachers_hold_it_or_a_study_speaks_against_it(
    rows: list[Cause],
) -> None:
    of_body = [row for row in rows if row.cause.part == "body"]
    assert [row.id for row in of_body if row.basis not in ("teachers hold", "evidence against")] == []


def test_what_teachers_hold_has_no_source_and_names_none(rows: list[Cause]) -> None:
    held = {row.source for row in rows if row.basis == "teachers hold"}
    assert held == {"common practice, no source"}


def test_no_row_of_the_body_has_a_number(rows: list[Cause]) -> None:
    body = [row for row in rows if row.basis == "teachers hold"]
    assert [row.id for row in body if any(sign.isdigit() for sign in row.caveat or "")] == []


def test_what_leads_to_what_in_the_body_has_no_circle(rows: list[Cause], moments: dict[str, int]) -> None:
    graph: dict[tuple[str, str], set[tuple[str, str]]] = {}
    for row in of_the_body(rows, moments):
        graph.setdefault((row.effect.what, row.effect.side), set()).add((row.cause.what, row.cause.side))
    assert list(TopologicalSorter(graph).static_order())


def test_nothing_leads_to_what_is_earlier_in_the_swing(rows: list[Cause], moments: dict[str, int]) -> None:
    body = of_the_body(rows, moments)
    assert [row.id for row in body if moments[row.cause.what] > moments[row.effect.what]] == []

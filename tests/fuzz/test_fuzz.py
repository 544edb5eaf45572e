"""Whatever lies in an academy, and whatever the machine is: no traceback, no long wait, no memory without a bound, and
one student's fault is that student's. A long run of the same is `python -m tests.bench.fuzz`."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, given, settings

from tests.fuzz.cases import Case, read
from tests.fuzz.changes import cases
from tests.fuzz.running import look

FOUND = sorted((Path(__file__).parent / "found").glob("*.json"))
"""Cases of which something did not hold once."""
EXAMPLES = 4
"""A command starts in a second or two; the long run tries hundreds."""


@pytest.fixture(scope="module")
def scratch(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("fuzz")


@pytest.mark.parametrize("found", FOUND, ids=[file.stem for file in FOUND])
def test_what_was_found_once_holds(found: Path, scratch: Path) -> None:
    look(read(found.read_text(encoding="utf-8")), scratch)


@settings(max_examples=EXAMPLES, phases=[Phase.generate], suppress_health_check=list(HealthCheck))
@given(case=cases())
def test_any_academy(case: Case, scratch: Path) -> None:
    look(case, scratch)


@settings(max_examples=30)
@given(case=cases())
def test_a_case_that_is_written_down_is_read_as_it_was(case: Case) -> None:
    assert read(case.written()) == case

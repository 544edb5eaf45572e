"""A rule that is asked of many cases in one test is broken by one case, and the failure names it."""

from collections.abc import Callable

import pytest

from tests.each import for_each, for_each_of

Asked = Callable[..., None]


@for_each("number", [("two", 2), ("three", 3), ("four", 4)])
def even(number: int) -> None:
    assert number % 2 == 0


@for_each_of({"one and one": {"first": 1, "second": 1}, "one and two": {"first": 1, "second": 2}})
def alike(first: int, second: int, more: int) -> None:
    assert first + more == second + more


@pytest.mark.parametrize(("rule", "others", "case"), [(even, {}, "three"), (alike, {"more": 5}, "one and two")])
def test_the_case_that_breaks_a_rule_is_named_and_its_failure_kept(rule: Asked, others: dict, case: str) -> None:
    with pytest.raises(ExceptionGroup, match=f"^broken by {case}$") as broken:
        rule(**others)
    assert [type(error) for error in broken.value.exceptions] == [AssertionError]

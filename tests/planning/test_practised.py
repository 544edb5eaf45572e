"""What is told of practice since the last lesson."""

from reportgen.planning.practised import practised
from reportgen.records.lesson import PracticeEntry


def entry(**of: object) -> PracticeEntry:
    return PracticeEntry.model_validate({"date": "2026-03-02", **of})


def test_a_day_of_rest_is_not_a_day_of_practice() -> None:
    log = [entry(minutes=20, swings=24), entry(date="2026-03-03", minutes=0, note="back ached; rested")]
    did = practised(None, log, "full-swing")
    assert did is not None
    assert (did.days, did.swings) == (1, 24)


def test_a_log_of_rest_alone_says_nothing_of_practice() -> None:
    assert practised(None, [entry(minutes=0)], "full-swing") is None

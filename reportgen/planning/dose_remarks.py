"""What the desk is told where a page has another dose than the instructor or the drill asked for."""

from collections.abc import Iterator, Sequence

from reportgen.records.lesson import DrillChoice
from reportgen.records.report import DeskRemark, GivenDrill


def given_slower(chosen: Sequence[DrillChoice], given: Sequence[GivenDrill]) -> Iterator[DeskRemark]:
    """A remark on each of the instructor's own doses whose pace a caution forbids."""
    asked = {choice.drill: choice.dose for choice in chosen if choice.dose is not None}
    for one in given:
        if one.drill in asked and asked[one.drill] != one.dose:
            yield DeskRemark(code="too fast", drill=one.drill, dose=asked[one.drill], cut_to=one.dose)


def given_less(asked: Sequence[GivenDrill], given: Sequence[GivenDrill], most: int) -> Iterator[DeskRemark]:
    """A remark on each drill of whose dose a day may have less (`most` swings, or strokes), and on each of the
    instructor's for which the days of this week have less room."""
    now = {one.drill: one.dose for one in given}
    for one in asked:
        cut = {"drill": one.drill, "dose": one.dose, "cut_to": now[one.drill]}
        if one.dose.swings > most and cut["cut_to"] != one.dose:
            yield DeskRemark(code="dose cut", swings_a_day=most, **cut)
        elif one.chosen_by == "instructor" and cut["cut_to"] != one.dose:
            yield DeskRemark(code="no room", **cut)

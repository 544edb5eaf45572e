"""What the counts of a drill's test have come to: passed on one day, kept on two.

A player who makes half of all tries passes a test of 7 in 10 in 17 of 100 tries, and twice running in 3 of 100
(binomial; `tests/published/test_drill_tests.py`). So one day says that it was met, and two say that it is kept.
"""

from collections.abc import Iterable, Mapping, Sequence
from itertools import chain, groupby

from reportgen.records.content import Drill
from reportgen.records.drill_tests import DayTested, DrillCount, DrillTest, DrillTested
from reportgen.records.lesson import Lesson


def tested_now(
    lessons: Sequence[Lesson], given: Iterable[str], drills: Mapping[str, Drill], new: int
) -> tuple[DrillTested, ...]:
    """Of the drills `given` in the last of the lessons, and then of those that were counted in the last `new` sheets,
    what all counts up to then have come to; a drill that was never counted, or is not among `drills`, is left out."""
    counts = [tries_in(lesson, drills) for lesson in lessons]
    tested = drills_tested(chain.from_iterable(counts), drills)
    wanted = dict.fromkeys([*given, *(count.drill for sheet in counts[-new:] for count in sheet)])
    return tuple(tested[drill] for drill in wanted if drill in tested)


def tries_in(lesson: Lesson, drills: Mapping[str, Drill]) -> tuple[DrillCount, ...]:
    """The counts of tests that a lesson's sheet holds: the instructor's among its shots, the student's in its practice
    log. What was counted before the lesson's work says nothing of the drill and is left out, and so is what is counted
    for a drill without a test. A count at home that does not say of how many is of as many as the test."""
    found = [
        DrillCount(drill=row.drill, date=lesson.date, made=row.made, of=row.of, by="instructor")
        for row in lesson.shots
        if row.drill is not None and row.made is not None and row.of is not None and row.when != "before"
    ]
    for entry in lesson.practice_log:
        if (tried := entry.test) is not None and (test := its_test(tried.drill, drills)) is not None:
            of = tried.of or test.of
            found.append(DrillCount(drill=tried.drill, date=entry.date, made=tried.made, of=of, by="student"))
    return tuple(count for count in found if its_test(count.drill, drills) is not None)


def its_test(drill: str, drills: Mapping[str, Drill]) -> DrillTest | None:
    """The test of a drill; None where it has none, or is not known."""
    return drills[drill].test if drill in drills else None


def drills_tested(counts: Iterable[DrillCount], drills: Mapping[str, Drill]) -> dict[str, DrillTested]:
    """By drill, what its counts have come to; they come in any order, the instructor's and the student's alike.

    The counts of one day are added up: whoever tries until it works has not made it more often.
    """
    in_order = sorted(counts, key=lambda count: (count.drill, count.date))
    return {
        drill: _tested(drill, list(of_drill), test)
        for drill, of_drill in groupby(in_order, key=lambda count: count.drill)
        if (test := its_test(drill, drills)) is not None
    }


def passing(test: DrillTest, of: int) -> int | None:
    """How many made of so many tries pass a test: the same share as of its own number, rounded up. None where there are
    fewer than half as many tries: so few are passed by luck too often (own rule)."""
    return None if 2 * of < test.of else -(-test.passes * of // test.of)


def _tested(drill: str, counts: list[DrillCount], test: DrillTest) -> DrillTested:
    days = []
    for day, of_day in groupby(counts, key=lambda count: count.date):
        on = list(of_day)
        made, of = sum(count.made for count in on), sum(count.of for count in on)
        least = passing(test, of)
        passed = least is not None and made >= least
        at_home = all(count.by == "student" for count in on)
        days.append(DayTested(date=day, made=made, of=of, passed=passed, at_home=at_home))
    last = [day.passed for day in days[-2:]]
    if last[-1]:
        standing = "kept" if len(last) == 2 and last[0] else "met"
    else:
        standing = "not this time" if any(day.passed for day in days) else "not yet"
    return DrillTested(drill=drill, standing=standing, days=tuple(days))

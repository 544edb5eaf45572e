"""The test of a drill in words, and what its counts have come to."""

from datetime import date

from reportgen.judging.drill_tests import passing
from reportgen.languages.speaking import say
from reportgen.records.drill_tests import DayTested, DrillTest, DrillTested
from reportgen.records.told_practice import ToldTested
from reportgen.saying.wording import past_day
from reportgen.sheets.library import Library


def how_to_test(test: DrillTest, tries: int | None = None) -> str | None:
    """`Count 10 in a row (a short iron). A ball counts when your toes are still free at the end. You pass with 7 or
    more.` Where there is room for fewer `tries`, it is of so many; None where they are too few for a test."""
    of = test.of if tries is None else min(tries, test.of)
    least = passing(test, of)
    if least is None:
        return None
    count = say("Count {of} in a row.", of=of)
    if test.setting is not None:
        count = say("Count {of} in a row ({setting}).", of=of, setting=test.setting)
    passes = say("You pass with all of them.")
    if least < of:
        passes = say("You pass with {passes} or more.", passes=least)
    return f"{count} {test.count} {passes}"


def told_tested(tested: DrillTested, today: date, library: Library) -> ToldTested:
    """What the counts of a drill's test have come to by `today`, the day of the lesson; `library` is the reader's."""
    says = _says(tested, today)
    return ToldTested(**dict(tested), title=library.drills[tested.drill].title, says=says)


def _says(tested: DrillTested, today: date) -> str:
    *before, last = tested.days
    now = _counted(last, today)
    if tested.standing == "kept":
        then = _counted(before[-1], today)
        return say("{before}, {now}: passed on two days running. You have kept it.", before=then, now=now)
    if tested.standing == "met":
        return say("{now}: passed. Once can be luck, so count again on another day.", now=now)
    if tested.standing == "not yet":
        return say("{now}: not passed yet.", now=now)
    passed = next(day.date for day in reversed(before) if day.passed)
    return say("{now}: not passed this time. You last passed on {day}.", now=now, day=past_day(passed, today))


def _counted(day: DayTested, today: date) -> str:
    if day.at_home:
        return say("{made} of {of} at home on {day}", made=day.made, of=day.of, day=past_day(day.date, today))
    if day.date == today:
        return say("{made} of {of} in this lesson", made=day.made, of=day.of)
    return say("{made} of {of} on {day}", made=day.made, of=day.of, day=past_day(day.date, today))

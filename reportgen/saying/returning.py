"""The return after a stop in words: what a day of a step has, and what is said beside it."""

from collections.abc import Callable

from reportgen.languages.speaking import say, say_count
from reportgen.records.practice_week import PracticeItem, Returning
from reportgen.records.returning import RETURN_STEPS, ReturnRules, ReturnStepId
from reportgen.saying.wording import day, mid_sentence
from reportgen.sheets.library import Library

_PARTS: dict[str, Callable[[int], str]] = {
    "putts": lambda n: say_count("{count} putt.", "{count} putts.", n),
    "chips": lambda n: say_count("{count} chip.", "{count} chips.", n),
    "half-swings": lambda n: say_count(
        "{count} half swing off a tee, with a wedge or a short iron.",
        "{count} half swings off a tee, with a wedge or a short iron.",
        n,
    ),
    "three-quarter-swings": lambda n: say_count(
        "{count} three-quarter swing off a tee, with a wedge or a short iron.",
        "{count} three-quarter swings off a tee, with a wedge or a short iron.",
        n,
    ),
    "short-irons": lambda n: say_count(
        "{count} easy full swing off a tee, with a short iron.",
        "{count} easy full swings off a tee, with a short iron.",
        n,
    ),
    "medium-irons": lambda n: say_count(
        "{count} easy full swing off a tee, with a medium iron.",
        "{count} easy full swings off a tee, with a medium iron.",
        n,
    ),
    "long-irons": lambda n: say_count(
        "{count} easy full swing off a tee, with a long iron.",
        "{count} easy full swings off a tee, with a long iron.",
        n,
    ),
    "woods": lambda n: say_count(
        "{count} easy full swing off a tee, with a wood.", "{count} easy full swings off a tee, with a wood.", n
    ),
    "holes": lambda n: say_count("{count} hole, without hurry.", "{count} holes, without hurry.", n),
}


def return_part(item: PracticeItem, library: Library) -> str:
    """What is done in one part of a day of the return, the first with its step before it."""
    rules = rules_of(library)
    if item.step is None:
        raise ValueError("a part of a return names its step")
    step = rules.steps[RETURN_STEPS.index(item.step)]
    if item.part is None:
        small = library.practice.small_game
        return small.warm_up.what if small and not step.swings else library.practice.warm_up.what
    dose = step.doses[item.part]
    count = item.swings + item.strokes if dose.what != "holes" else dose.count
    said = _PARTS[dose.what](count)
    return f"{step_name(item.step, library)}: {said}" if item.part == 0 else said


def step_name(step: ReturnStepId, library: Library) -> str:
    """`Step 3 of 10, half swings`."""
    number = RETURN_STEPS.index(step)
    title = rules_of(library).steps[number].title
    return say("Step {number} of {of}, {title}", number=number + 1, of=len(RETURN_STEPS), title=mid_sentence(title))


def return_says(returning: Returning, library: Library) -> str:
    """What is said of a week of the return: why there are steps, when to go on, when to go back, when to stop."""
    rules = rules_of(library)
    why = say(
        "You were cleared on {day}, so you come back in steps: one step a day, with a day of rest between.",
        day=day(returning.cleared_on),
    )
    return " ".join([why, rules.go_on, rules.step_back, rules.stop])


def rules_of(library: Library) -> ReturnRules:
    """The steps of the library. Raises ValueError where it was not read from a folder."""
    if library.returning is None:
        raise ValueError("the library has no steps of a return")
    return library.returning

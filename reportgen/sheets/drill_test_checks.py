"""What is wrong with a count of a drill's test that is sound by itself."""

from collections.abc import Iterator, Mapping
from typing import Any

from reportgen.records.content import Drill
from reportgen.records.drill_tests import TriedDrill
from reportgen.sheets.problems import Problem, nearest
from reportgen.sheets.reading import Sheet
from reportgen.sheets.tree import Loc


def count_problems(sheet: Sheet[Any], at: Loc, tried: TriedDrill, drills: Mapping[str, Drill]) -> Iterator[Problem]:
    """What is wrong with the count at a place of a sheet: its drill is not known, has no test, or was made more often
    than its test has tries."""
    if (fault := untested(tried.drill, drills)) is not None:
        yield sheet.problem((*at, "drill"), *fault)
    elif tried.of is None and (test := drills[tried.drill].test) is not None and tried.made > test.of:
        wrong = f"{tried.made} were made, and the test of {tried.drill} has {test.of} tries"
        yield sheet.problem((*at, "made"), wrong, "Write of: with how many were tried, or look at made.")


def untested(drill: str, drills: Mapping[str, Drill]) -> tuple[str, str] | None:
    """What is wrong with a drill that is counted, and how to mend it; None where it has a test."""
    if drill not in drills:
        return f"the drill {drill!r} is not known", nearest(drill, drills)
    if drills[drill].test is None:
        return f"the drill {drill} has no test", f"Write test: into drills/{drill}.md, or take the count out."
    return None

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
    drill = drills.get(tried.drill)
    if drill is None:
        wrong = f"the drill {tried.drill!r} is not known"
        yield sheet.problem((*at, "drill"), wrong, nearest(tried.drill, drills))
    elif drill.test is None:
        mend = f"Write test: into drills/{tried.drill}.md, or take the count out."
        yield sheet.problem((*at, "drill"), f"the drill {tried.drill} has no test", mend)
    elif tried.of is None and tried.made > drill.test.of:
        wrong = f"{tried.made} were made, and the test of {tried.drill} has {drill.test.of} tries"
        yield sheet.problem((*at, "made"), wrong, "Write of: with how many were tried, or look at made.")

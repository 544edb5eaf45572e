"""Lessons whose day is still to come."""

from datetime import timedelta

from reportgen.sheets.academy_folder import AcademyFolder
from reportgen.sheets.today import build_day

AHEAD = timedelta(days=7)
"""A sheet may be begun for next week's lesson; one for later than that is rather a slip of the pen."""


def date_warnings(folder: AcademyFolder) -> list[str]:
    """The sheets of lessons that lie ahead: to everybody who reads them such a lesson is the latest. Raises
    ReportgenError as `build_day` does."""
    if folder.academy is None:
        return []
    latest = build_day(folder.academy) + AHEAD
    ahead = [f"{s.id}/lessons/{x.name}" for s in folder.students.values() for x in s.lessons if x.lesson.date > latest]
    says = "the day of this lesson is still to come. Look at its year and month."
    return [f"students/{sheet}.yaml: {says}" for sheet in sorted(ahead)]

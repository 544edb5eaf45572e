"""The one place that decides what day it is."""

import os
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from reportgen.errors import ReportgenError
from reportgen.records.academy import Academy
from reportgen.sheets.academy_folder import AcademyFolder

AHEAD = timedelta(days=7)
"""A sheet may be begun for next week's lesson; one for later than that is rather a slip of the pen."""


def build_day(academy: Academy) -> date:
    """Today at the academy, wherever the program runs; the day of SOURCE_DATE_EPOCH where that is set.

    Raises ReportgenError where SOURCE_DATE_EPOCH is not a moment of the calendar.
    """
    epoch = os.environ.get("SOURCE_DATE_EPOCH")
    try:
        now = datetime.fromtimestamp(int(epoch), UTC) if epoch else datetime.now(UTC)
    except (ValueError, OverflowError, OSError):
        raise ReportgenError(f"SOURCE_DATE_EPOCH is {epoch}. Give seconds since 1970, or leave it out.") from None
    return now.astimezone(ZoneInfo(academy.timezone)).date()


def date_warnings(folder: AcademyFolder) -> list[str]:
    """The sheets of lessons that lie ahead: to everybody who reads them such a lesson is the latest. Raises
    ReportgenError as `build_day` does."""
    if folder.academy is None:
        return []
    latest = build_day(folder.academy) + AHEAD
    ahead = [f"{s.id}/lessons/{x.name}" for s in folder.students.values() for x in s.lessons if x.lesson.date > latest]
    says = "the day of this lesson is still to come. Look at its year and month."
    return [f"students/{sheet}.yaml: {says}" for sheet in sorted(ahead)]

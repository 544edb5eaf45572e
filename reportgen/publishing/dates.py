"""The one place that decides what day it is."""

import os
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from reportgen.errors import ReportgenError
from reportgen.records.academy import Academy


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

"""The one place that decides what day it is."""

import os
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from reportgen.errors import ReportgenError
from reportgen.records.academy import Academy
from reportgen.records.bounds import EARLIEST, LATEST
from reportgen.sheets.problems import shown


def build_day(academy: Academy) -> date:
    """Today at the academy, wherever the program runs; the day of SOURCE_DATE_EPOCH where that is set. Raises
    ReportgenError as `today_in` does."""
    return today_in(academy.timezone)


def today_in(timezone: str) -> date:
    """Today in a time zone, by its name in the tz database; the day of SOURCE_DATE_EPOCH where that is set.

    Raises ReportgenError where SOURCE_DATE_EPOCH is not a moment of the years in which lessons are held.
    """
    zone, epoch = ZoneInfo(timezone), os.environ.get("SOURCE_DATE_EPOCH")
    if not epoch:
        return datetime.now(zone).date()
    try:
        day = datetime.fromtimestamp(int(epoch), UTC).astimezone(zone).date()
    except (ValueError, OverflowError, OSError):
        day = None
    if day is None or not EARLIEST <= day.year <= LATEST:
        mend = f"Give seconds since 1970, within the years {EARLIEST} to {LATEST}, or leave it out."
        raise ReportgenError(f"SOURCE_DATE_EPOCH is {shown(epoch)}. {mend}")
    return day

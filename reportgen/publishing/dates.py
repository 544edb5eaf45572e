"""The one place that decides what day it is."""

import os
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from reportgen.records.academy import Academy


def build_day(academy: Academy) -> date:
    """Today at the academy, wherever the program runs; the day of SOURCE_DATE_EPOCH where that is set."""
    epoch = os.environ.get("SOURCE_DATE_EPOCH", "")
    now = datetime.fromtimestamp(int(epoch), UTC) if epoch.isdigit() else datetime.now(UTC)
    return now.astimezone(ZoneInfo(academy.timezone)).date()

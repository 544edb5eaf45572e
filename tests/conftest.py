"""What holds for all tests. Hypothesis tries the same examples on every run, without a clock, since a test machine can
be slow. A desk says what day it is: every test lives on one day, a run that goes on past midnight too."""

import os

from hypothesis import settings

settings.register_profile("reportgen", deadline=None, derandomize=True, database=None)
settings.load_profile("reportgen")

os.environ["SOURCE_DATE_EPOCH"] = "1795608000"  # 25 November 2026, noon in Greenwich: after the demo's last lesson

"""The page of the season: what all lessons of the academy say together; it stays on the instructor's desk."""

from collections.abc import Mapping
from datetime import date
from pathlib import Path

from reportgen.languages.speaking import say, speaking
from reportgen.pages.theme import environment
from reportgen.planning.repeatability import LESSONS_AT_LEAST, PAIRS_AT_LEAST, TwoWays
from reportgen.planning.season import Season
from reportgen.records.academy import Academy
from reportgen.records.wording import amount
from reportgen.sheets.readers import spoken


def season_page(season: Season, pages: Mapping[str, str], as_of: date, academy: Academy, root: Path) -> bytes:
    """The page; `pages` leads from a student's id to their pages, for those who have some."""
    page = environment(academy, root).get_template("season.html")
    with speaking(spoken(academy.language, root)):
        text = page.render(
            assets="assets/",
            season=season,
            pages=pages,
            as_of=as_of,
            lessons_at_least=LESSONS_AT_LEAST,
            pairs_at_least=PAIRS_AT_LEAST,
            signed=_signed,
            ways={"by-eye": say("by eye"), "still": say("pictures"), "sensor": say("a sensor")},
        )
    return text.encode()


def _signed(of: TwoWays, value: float) -> str:
    """A difference with its sign, `+1.2°`."""
    said = amount(value, of.unit, of.decimals)
    return f"+{said}" if value > 0 else said

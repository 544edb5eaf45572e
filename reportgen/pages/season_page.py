"""The page of the season: what all lessons of the academy say together; it stays on the instructor's desk."""

from collections.abc import Mapping
from datetime import date

from reportgen.languages.speaking import say, speaking
from reportgen.pages.theme import environment
from reportgen.planning.repeatability import LESSONS_AT_LEAST, PAIRS_AT_LEAST
from reportgen.planning.season import Season
from reportgen.saying.readers import language_called
from reportgen.sheets.academy_folder import Home


def season_page(season: Season, pages: Mapping[str, str], as_of: date, home: Home) -> bytes:
    """The page; `pages` leads from a student's id to their pages, for those who have some."""
    page = environment(home).get_template("season.html")
    with speaking(language_called(home.academy.language, home.root)):
        text = page.render(
            assets="assets/",
            season=season,
            pages=pages,
            as_of=as_of,
            lessons_at_least=LESSONS_AT_LEAST,
            pairs_at_least=PAIRS_AT_LEAST,
            ways={"by-eye": say("by eye"), "still": say("pictures"), "sensor": say("a sensor")},
        )
    return text.encode()

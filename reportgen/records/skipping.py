"""Who leaves a drill out, as its front matter says it: places that are sore, and what only the student can tell."""

from typing import Annotated, Any

from pydantic import BeforeValidator, Field, model_validator

from reportgen.records.base import Line, Record
from reportgen.records.bounds import WORDS
from reportgen.records.words import Site, Unfit

SORE_FROM = 3
"""The score from which a place counts as sore: where the holds of content/safety begin for an adult."""


class SoreSite(Record):
    """A place of the body, and the score (0 to 10) from which a drill is left out for it."""

    site: Site
    at_least: Annotated[int, Field(ge=1, le=10)] = SORE_FROM


def _read_site(written: Any) -> Any:
    return {"site": written} if isinstance(written, str) else written


WrittenSite = Annotated[SoreSite, BeforeValidator(_read_site, json_schema_input_type=Site | SoreSite)]


class SkipIf(Record):
    """Who leaves a drill out, beside those whose place it `loads`: whose place `hurts`, and for whom one of the
    `conditions` holds. `also` is what no word says; the plan knows nothing of it."""

    hurts: Annotated[tuple[WrittenSite, ...], Field(max_length=WORDS)] = ()
    conditions: Annotated[tuple[Unfit, ...], Field(max_length=WORDS)] = ()
    also: Line | None = None

    @model_validator(mode="after")
    def _each_site_once(self) -> "SkipIf":
        sites = [sore.site for sore in self.hurts]
        if twice := next((site for site in sites if sites.count(site) > 1), None):
            raise ValueError(f"names {twice} twice", "Keep one.")
        return self


def _read_skip(written: Any) -> Any:
    return {"also": written} if isinstance(written, str) else written


WrittenSkip = Annotated[SkipIf, BeforeValidator(_read_skip, json_schema_input_type=Line | SkipIf)]
"""A line alone, as drills had it before there were words for it, is what `also` says."""

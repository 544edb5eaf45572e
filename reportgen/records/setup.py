"""How a player stands to the ball: what can be observed, what a sheet says of it, and what is found."""

from datetime import date
from typing import Annotated, Literal, Self

from pydantic import ConfigDict, Field, model_validator

from reportgen.records.base import Line, Record, Slug, Text, UnitName
from reportgen.records.bounds import SETUP_WORDS, Figure, by_unit
from reportgen.records.content import SignWords
from reportgen.records.words import Club

ObservedIn = Literal["deg", "cm", "%"]


class SetupWord(Record):
    """A word that may be said of the setup. `says` is how a reader meets it, `means` a sentence on what it is."""

    id: Slug
    says: Line
    means: Text


class SetupKind(Record):
    """What can be observed at setup: in `words`, as a number in `unit`, or either. It has no range."""

    id: Slug
    name: Line
    explain: Text
    words: Annotated[tuple[SetupWord, ...], Field(max_length=SETUP_WORDS)] = ()
    unit: ObservedIn | None = None
    decimals: Annotated[int, Field(ge=0, le=3)] = 0
    sign: SignWords | None = None
    source: Text

    @model_validator(mode="after")
    def _something_to_say(self) -> Self:
        if not self.words and self.unit is None:
            raise ValueError("has neither words nor a unit", "Add words:, or unit: where it is a number.")
        return self

    @property
    def by_word(self) -> dict[str, SetupWord]:
        """The words by their ids."""
        return {word.id: word for word in self.words}


class Observation(Record):
    """What was seen at setup: a `word` for it, or a `value` with its unit. The club is the lesson's where none is
    named."""

    model_config = ConfigDict(json_schema_extra=by_unit("value"))

    what: Slug
    word: Slug | None = None
    value: Figure | None = None
    unit: UnitName | None = None
    club: Club | None = None
    note: Line | None = None

    @model_validator(mode="after")
    def _a_word_or_a_number(self) -> Self:
        if (self.word is None) == (self.value is None):
            raise ValueError("has neither or both of word and value", "Write one of them: a word, or a number.")
        if (self.value is None) != (self.unit is None):
            raise ValueError("has one of value and unit alone", "Write both, as value: 4, unit: deg.")
        return self


class Observed(Record):
    """A word, or a number in the unit of what was observed."""

    word: Slug | None = None
    value: float | None = None


class SetupFound(Observed):
    """What was observed with a club, beside what it was `before`, the last time with the same club."""

    what: Slug
    club: str
    note: str | None = None
    before_on: date | None = None
    before: Observed | None = None

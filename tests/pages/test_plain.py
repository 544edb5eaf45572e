"""What templates are given: names and values, no matter what they are rendered with."""

from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import NamedTuple

import pytest

from reportgen.errors import ThemeError
from reportgen.pages.plain import Plain, plain
from reportgen.pages.theme import environment, shipped_templates
from reportgen.records.academy import Academy, Instructor
from reportgen.records.told_practice import ToldDay, ToldItem
from reportgen.sheets.academy_folder import Home

ACADEMY = Academy(
    name="Example School", instructor=Instructor(name="Ada Example"), secret="long enough to be one, surely"
)
ITEM = ToldItem(kind="slow", what="Slow swings", drill=None, minutes=5, swings=12)


@dataclass(frozen=True)
class File:
    name: str
    data: bytes
    made_by: object = field(repr=False)


class Pair(NamedTuple):
    first: Instructor
    second: int


def test_a_record_becomes_its_fields_and_what_it_computes() -> None:
    day = plain(ToldDay(day=date(2026, 3, 5), items=(ITEM, ITEM), amount="24 swings"))
    assert (day.day, day.swings, day.minutes) == (date(2026, 3, 5), 24, 10)
    assert day.items[0].what == "Slow swings"
    assert not hasattr(day, "model_dump")


def test_the_secret_stays_behind() -> None:
    told = plain(ACADEMY)
    assert told.instructor.name == "Ada Example"
    assert not hasattr(told, "secret")


def test_of_a_dataclass_what_files_are_made_of_stays_behind() -> None:
    told = plain(File("a.svg", b"...", made_by=object()))
    assert vars(told) == {"name": "a.svg"}


def test_lists_and_tables_keep_their_form_at_any_depth() -> None:
    told = plain({"pairs": [Pair(ACADEMY.instructor, 2)], "none": None, "words": ("a", "b")})
    assert told["words"] == ("a", "b")
    assert (told["pairs"][0].first.name, told["pairs"][0].second) == ("Ada Example", 2)
    assert type(told["pairs"][0].first) is Plain


def test_what_is_plain_is_not_copied_again() -> None:
    told = plain(ACADEMY)
    assert plain({"academy": told})["academy"] is told


def test_a_plain_value_does_not_change() -> None:
    told = plain(ACADEMY)
    with pytest.raises(AttributeError):
        told.name = "Another School"
    with pytest.raises(AttributeError):
        del told.name


@pytest.mark.parametrize("value", [print, object(), Path("here"), b"bytes", Academy])
def test_what_has_no_plain_form_is_given_to_no_template(value: object) -> None:
    with pytest.raises(TypeError, match="a template gets no"):
        plain({"value": value})


def test_whatever_a_template_is_rendered_with_it_gets_plain_values(tmp_path: Path) -> None:
    (tmp_path / "look").mkdir()
    (tmp_path / "look" / "own.html").write_text("{{ one.name }}\n{{ one.model_dump }}")
    template = environment(Home(tmp_path, ACADEMY.model_copy(update={"theme": "look"}))).get_template("own.html")
    with pytest.raises(ThemeError, match=r"own\.html:2: the template is wrong: this Instructor has no model_dump"):
        template.render(one=ACADEMY.instructor)
    with pytest.raises(TypeError):
        template.render(one=print)
    with pytest.raises(TypeError):
        shipped_templates().get_template("desk-home.html").render(due=object())

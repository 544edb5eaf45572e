"""The catalogues: every message of program, pages and content is there, translated whole, with the same places."""

import re
from collections import Counter
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog, Message
from babel.messages.pofile import read_po

from reportgen.languages.catalogues import compiled
from reportgen.records.content import Metric
from tests.languages.collect import FOLDER, library, messages, template

CODES = sorted(file.stem for file in FOLDER.glob("*.po"))
PLACE = re.compile(r"\{\w+\}|%\(\w+\)s")
TAG = re.compile(r"</?[a-z][^>]*>")
ITEM = re.compile(r"^(?:\d+\.|-) ", re.MULTILINE)
SHORT = 26
"""Signs of a metric's short name: charts have no more room."""


@pytest.fixture(scope="module", params=CODES)
def catalogue(request: pytest.FixtureRequest) -> Catalog:
    with (FOLDER / f"{request.param}.po").open("rb") as read:
        return read_po(read, locale=request.param, abort_invalid=True)


@pytest.fixture(scope="module")
def everything() -> Catalog:
    return template()


def _forms(message: Message) -> list[tuple[str, str]]:
    """(English, translated) of each form of a message: the last English one stands for all but the first."""
    if isinstance(message.id, str):
        return [(message.id, str(message.string))]
    one, many = message.id
    forms = list(message.string)
    return [(one if len(forms) > 1 and number == 0 else many, form) for number, form in enumerate(forms)]


def _told(message: Message) -> list[str]:
    return [form for _, form in _forms(message)]


def test_there_are_two_languages_besides_english() -> None:
    assert len(CODES) >= 2


@pytest.mark.parametrize("code", CODES)
def test_what_is_shipped_is_what_its_catalogue_compiles_to(code: str) -> None:
    shipped = (FOLDER / f"{code}.mo").read_bytes()
    assert shipped == compiled(FOLDER / f"{code}.po", code), "python -m tests.languages.collect compiles them"


def test_it_has_every_message_and_no_other(catalogue: Catalog, everything: Catalog) -> None:
    wanted = {(m.context, m.id) for m in everything if m.id}
    assert {(m.context, m.id) for m in catalogue if m.id} == wanted


def test_the_template_for_translators_is_up_to_date(everything: Catalog) -> None:
    with (FOLDER / "messages.pot").open("rb") as read:
        kept = read_po(read)
    assert {(m.context, m.id) for m in kept} == {(m.context, m.id) for m in everything}


def test_every_message_is_translated(catalogue: Catalog) -> None:
    assert [m.id for m in catalogue if m.id and (m.fuzzy or not all(_told(m)))] == []


def test_every_translation_fills_the_same_places(catalogue: Catalog) -> None:
    wrong = []
    for message in (m for m in catalogue if m.id):
        for english, form in _forms(message):
            wanted, found = set(PLACE.findall(english)), set(PLACE.findall(form))
            counts = {"{count}", "%(num)s", "%(count)s"}
            if found - wanted or wanted - found - (counts if not isinstance(message.id, str) else set()):
                wrong.append((english, form))
    assert wrong == []


def test_every_translation_has_the_same_tags(catalogue: Catalog) -> None:
    pairs = [pair for message in catalogue if message.id for pair in _forms(message)]
    assert [pair for pair in pairs if Counter(TAG.findall(pair[0])) != Counter(TAG.findall(pair[1]))] == []


def test_no_sign_of_html_stands_in_a_message_of_a_page(catalogue: Catalog) -> None:
    """Pages print messages as they are, in attributes too."""
    of_pages = [m for m in catalogue if m.id and any(place.startswith("themes/") for place, _ in m.locations)]
    bare = [TAG.sub("", form) for message in of_pages for form in _told(message)]
    assert len(bare) > 200
    assert [form for form in bare if '"' in form or "<" in form] == []


def test_lists_keep_their_items(catalogue: Catalog) -> None:
    pairs = [pair for message in catalogue if message.id for pair in _forms(message)]
    assert [pair for pair in pairs if len(ITEM.findall(pair[0])) != len(ITEM.findall(pair[1]))] == []


def test_figures_stay_as_they_are(catalogue: Catalog) -> None:
    """Of a text of the library, cautions above all: no dose, age or limit may come out as another one."""
    wrong = []
    for message in (m for m in catalogue if m.id and any(place.startswith("content/") for place, _ in m.locations)):
        for english, form in _forms(message):
            figures = [re.findall(r"\d+", text) for text in (PLACE.sub("", english), PLACE.sub("", form))]
            if sorted(figures[0]) != sorted(figures[1]):
                wrong.append((english, form))
    assert wrong == []


def test_short_names_fit_into_charts(catalogue: Catalog) -> None:
    names: list[Metric] = list(library().metrics.values())
    short = {metric.short: str(catalogue.get(metric.short).string) for metric in names}
    assert {name: told for name, told in short.items() if len(told) > SHORT} == {}


def test_nothing_that_is_said_is_put_together_outside_a_message() -> None:
    """Messages that begin or end with a space or are a single sign are pieces of a sentence."""
    found = [m for _, _, message in messages() for m in ([message] if isinstance(message, str) else message)]
    assert [m for m in found if m != m.strip()] == []


def test_a_catalogue_lies_beside_its_template_and_is_compiled() -> None:
    wanted = {f"{code}.{kind}" for code in CODES for kind in ("po", "mo")}
    assert {file.name for file in Path(FOLDER).iterdir()} == {*wanted, "messages.pot"}

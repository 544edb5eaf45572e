"""The guide leaves nothing out: every command with its options, and every field of what a person writes."""

import re
from collections.abc import Iterator, Mapping
from html import unescape
from pathlib import Path

import click
import pytest

import reportgen
from reportgen.cli import main
from reportgen.languages.typography import curled
from reportgen.pages.guide_fields import LIBRARY, SHEETS, anchor
from reportgen.pages.guide_pages import guide_pages
from reportgen.pages.guide_texts import guide_texts
from reportgen.pipeline import load
from reportgen.records.content import Drill
from reportgen.records.describing import records_of
from reportgen.records.shot_table import TEXTS, WORDS
from reportgen.sheets.academy_folder import sound
from reportgen.sheets.field_texts import OF_ALL, field_texts, texts_of_record
from tests.each import for_each, for_each_of

ROOT = Path(__file__).parents[1]
DEMO = ROOT / "examples" / "academy"
MADE = {"keys.html", "index.html", "desk/guide/index.html"}
"""Files of a published site, which texts name too."""


@pytest.fixture(scope="module")
def guide() -> Mapping[str, str]:
    folder = load(DEMO, "petra-lumsgate")
    return {name: data.decode("utf-8") for name, data in guide_pages(sound(folder)).items()}


def _commands(group: click.Group, named: str = "reportgen") -> Iterator[tuple[str, click.Command]]:
    for name, command in group.commands.items():
        yield f"{named} {name}", command
        if isinstance(command, click.Group):
            yield from _commands(command, f"{named} {name}")


COMMANDS = dict(_commands(main))
KINDS = {**SHEETS, **LIBRARY}
FIELDS = sorted(
    {
        (record, key)
        for kind in KINDS.values()
        for record in records_of(kind, kind.model_json_schema()).values()
        for key in (field.alias or name for name, field in record.model_fields.items())
    }
    - {(Drill, "sections")},  # the text of a drill, which prose tells of
    key=lambda entry: (entry[0].__name__, entry[1]),
)


def _about(command: str) -> str:
    """What the page of commands says of one: from where it is called to the next command or heading."""
    (page,) = (text.text for text in guide_texts() if text.name == "commands")
    found = re.search(rf"`{re.escape(command)}\b", page)
    assert found is not None, f"content/guide/commands.md does not name {command}"
    rest = page[found.end() :]
    end = re.search(r"^#|^- `reportgen ", rest, re.MULTILINE)
    return rest[: end.start()] if end else rest


@pytest.mark.parametrize("command", sorted(COMMANDS))
def test_the_guide_names_every_command_and_option(command: str) -> None:
    options = [parameter for parameter in COMMANDS[command].params if isinstance(parameter, click.Option)]
    names = {option.opts[-1] for option in options} | {max(option.opts, key=len) for option in options}
    said = _about(command)
    assert {name for name in names if name.startswith("--") and not re.search(rf"{name}(?![\w-])", said)} == set()


def test_the_guide_names_no_command_that_is_not_there(guide: Mapping[str, str]) -> None:
    named = {
        called
        for page in guide.values()
        for called in re.findall(r"<code>(reportgen(?: [a-z]+)?(?: (?:add|letter|list|remove))?)", page)
    }
    assert named - {"reportgen"} <= set(COMMANDS)


@for_each_of({f"{record.__name__}.{key}": {"record": record, "key": key} for record, key in FIELDS})
def test_the_guide_says_what_every_field_means(guide: Mapping[str, str], record: type, key: str) -> None:
    row = re.search(
        rf'<tr id="{re.escape(f"{anchor(record.__name__)}.{key}")}">(.*?)</tr>', "".join(guide.values()), re.S
    )
    assert row is not None, "it stands in no table of the guide"
    says, holds = (re.sub(r"<[^>]+>", "", cell).strip() for cell in re.findall(r"<td[^>]*>(.*?)</td>", row[1], re.S))
    assert says, "write what it means into content/fields.yaml"
    assert holds
    assert unescape(says) == curled(texts_of_record(record)[key])


@for_each("word", [(word, word) for word in (*WORDS, *TEXTS)])
def test_the_guide_names_everything_that_a_column_of_shots_can_hold(guide: Mapping[str, str], word: str) -> None:
    assert f"<code>{word}</code>" in guide["lesson.html"]


def test_no_text_is_of_a_field_that_is_not_there() -> None:
    there = {(record.__name__, key) for record, key in FIELDS}
    told = {(record, key) for record, texts in field_texts().items() for key in texts if key != OF_ALL}
    assert told - there == {("Drill", "sections")}  # for editors alone


@pytest.mark.parametrize(
    "text", ["README.md", "DEVELOPERS.md", "CONTRIBUTING.md", "reportgen/sealing/WHO-IS-KEPT-OUT.md"]
)
def test_what_is_told_of_files_is_told_of_files_that_are_there(text: str) -> None:
    named = set(re.findall(r"`([\w./-]+\.(?:py|md|txt|toml|js|html|pot))`", (ROOT / text).read_text(encoding="utf-8")))
    homes = (ROOT, ROOT / "reportgen", (ROOT / text).parent)
    assert {name for name in named if not any((home / name).is_file() for home in homes)} - MADE == set()


def test_the_newest_version_of_the_changelog_is_the_programs() -> None:
    versions = re.findall(
        r"^## \[(\d.*?)\] - \d{4}-\d\d-\d\d$", (ROOT / "CHANGELOG.md").read_text("utf-8"), re.MULTILINE
    )
    assert versions[0] == reportgen.__version__


@pytest.mark.parametrize("kind", ["metrics", "drills"])
def test_the_guide_lists_every_metric_and_drill(guide: Mapping[str, str], kind: str) -> None:
    shipped = {file.stem for file in (DEMO.parents[1] / "content" / kind).iterdir()}
    assert {name for name in shipped if f"<code>{name}</code>" not in guide["library.html"]} == set()

"""The habits of the house in what a student reads: the words it uses, how long a sentence is, how a heading is made."""

import re
from collections.abc import Iterator

import pytest
import yaml

from reportgen.pages.guide_texts import guide_texts
from reportgen.records.content import Drill, Metric
from reportgen.saying.wording import _NEEDED, amount, needed_name, sign_beside
from reportgen.sheets.library import load_library
from reportgen.sheets.shipped import shipped
from tests.content.shipped import CONTENT, DRILLS, each_drill
from tests.each import for_each

METRICS = list(load_library(shipped("content"), CONTENT / "no-academy")[0].metrics.values())
each_metric = for_each("metric", [(metric.id, metric) for metric in METRICS])

AVOIDED = re.compile(
    r"\b(?:whoever|surely|mend(?:s|ed)?|anew|afresh|struck|pelvis|flexion|toward|setup|complain\w*"
    r"|strikes?|(?:your|the) seat|in (?:the )?place of|ha(?:s|ve) often|more likely than not)\b",
    re.IGNORECASE,
)
"""Words of machines, lawyers and translations, and a second word for what has one already."""

LONGEST = 22


def sentences(text: str) -> Iterator[str]:
    """The sentences, list items and steps of a text."""
    for line in re.split(r"\n(?=- |\d+\. )|\n\n", text):
        yield from re.split(r"(?<=[.!?])\s+", re.sub(r"^(?:- |\d+\. )", "", line.strip()))


def of_drill(drill: Drill) -> list[str]:
    own = [drill.title, drill.aim, drill.feel, *drill.sections.values()]
    return [*own, drill.test.count, drill.test.setting or ""] if drill.test else own


def of_metric(metric: Metric) -> list[str]:
    sides = [side for side in (metric.below, metric.above) if side]
    said = [text for side in sides for text in (side.means, side.work_on, side.because)]
    return [metric.name, metric.short, metric.explain, *said]


@each_drill
def test_a_drill_has_no_word_that_the_house_avoids(drill: Drill) -> None:
    assert [found[0] for text in of_drill(drill) for found in AVOIDED.finditer(text)] == []


@each_metric
def test_a_metric_has_no_word_that_the_house_avoids(metric: Metric) -> None:
    """A strike is where on the face the ball is met, and nothing else."""
    found = [found[0] for text in of_metric(metric) for found in AVOIDED.finditer(text)]
    assert [word for word in found if not (metric.id.startswith("strike-") and word.lower() == "strike")] == []


@pytest.mark.parametrize("folder", ["counts", "setup"])
def test_counts_and_set_up_have_no_word_that_the_house_avoids(folder: str) -> None:
    keys = {"name", "explain", "says", "means"}
    found = []
    for file in sorted((CONTENT / folder).glob("*.yaml")):
        kind = yaml.safe_load(file.read_text(encoding="utf-8"))
        for record in (kind, *kind.get("words", ())):
            found += [word[0] for key in keys & record.keys() for word in AVOIDED.finditer(record[key])]
    assert found == []


@each_drill
def test_a_sentence_of_a_drill_is_read_in_one_breath(drill: Drill) -> None:
    assert [s for text in of_drill(drill) for s in sentences(text) if len(s.split()) > LONGEST] == []


@each_drill
def test_a_drill_has_no_semicolon(drill: Drill) -> None:
    assert [text for text in of_drill(drill) if ";" in text] == []


CLAUSE = re.compile(
    r"^(?:how|what|when|where|while|who|whose|why|if)\b|\b(?:is|are|was|were|can|must|looks|goes)\b", re.I
)


def test_a_heading_of_the_guide_is_a_noun_or_an_order() -> None:
    headings = []
    for page in guide_texts():
        text = re.sub(r"^```.*?^```", "", page.text, flags=re.MULTILINE | re.DOTALL)
        headings += [page.title, *re.findall(r"^#+ (.+)$", text, re.MULTILINE)]
    assert len(headings) > 50
    assert [heading for heading in headings if CLAUSE.search(heading)] == []


@each_metric
def test_a_name_and_its_value_say_no_word_twice(metric: Metric) -> None:
    for value in (57.0, -57.0):
        said = amount(value, metric.unit, metric.decimals, sign_beside(metric)).split("\u00a0")[-1]
        for name in (metric.name, metric.short):
            again = set(re.findall(r"[a-z]{3,}", name.lower())) & set(re.findall(r"[a-z]{3,}", said.lower()))
            assert again <= {"the", "target", "trail", "hip", "side"}, f"{name}: {said}"


def test_the_word_of_a_name_is_left_out_beside_it_and_the_other_is_said() -> None:
    hips = next(metric for metric in METRICS if metric.id == "pelvis-open-impact")
    assert hips.short == "Hips open"
    assert [amount(value, "deg", 0, sign_beside(hips)) for value in (57, -5)] == ["57°", "5° closed"]
    assert amount(57, "deg", 0, hips.sign) == "57° open"


def test_the_names_of_metrics_are_unlike_each_other() -> None:
    assert len({metric.name for metric in METRICS}) == len(METRICS)


def test_what_drills_need_is_named_with_its_article() -> None:
    assert {slug for drill in DRILLS for slug in drill.equipment} <= _NEEDED.keys()
    assert needed_name("wall") == "a wall"
    assert needed_name("my-gadget") == "my gadget"

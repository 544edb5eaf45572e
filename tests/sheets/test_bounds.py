"""Far more than a sheet needs, and numbers at the end of the numbers: each a problem at its line, with its bound."""

import math
import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reportgen.pages.student_site import student_site
from reportgen.pipeline import load, reports_of
from reportgen.records.bounds import LINES, LONG_WORDS, MARKS, MOST, RARE, TEXT
from reportgen.records.lesson import Lesson
from reportgen.records.units import UNITS
from reportgen.saying.readers import Reader
from reportgen.saying.telling import tell_all
from reportgen.sheets.academy_folder import sound
from reportgen.sheets.plausible import span_of
from reportgen.sheets.reading import sheet_of
from tests.sheets.academies import ACADEMY, LESSON, LESSON_FILE, STUDENT, STUDENT_FILE, make_academy
from tests.sheets.test_problems import told

OWN_METRIC = """\
id: own
name: Own
short: Own
checkpoint: impact
unit: cm
explain: What.
taken: How.
uncertainty: {by-eye: 2, source: memory}
source: memory
"""
OWN_BANDS = """\
metric: side-bend-impact
unit: deg
bands: [{id: own, for: me, low: 1, fits: {sex: [male]}, basis: memory, limits: a span, source: memory}]
"""
OWN_RULE = """\
rules:
  - {id: own, level: note, basis: memory, source: memory, student: Mind., instructor: Mind., when: {always: true}}
"""
OWN_DRILL = """\
---
id: own
title: Own drill
aim: A quiet start.
serves:
  - {metric: pelvis-open-impact, when: below}
dose: 3 x 8
feel: Quiet.
source: common practice, no source
---
## Set-up
Some text.
## Steps
Some text.
## Feel
Some text.
## Common mistakes
Some text.
## Easier
Some text.
## Harder
Some text.
"""
READING = "readings: [{metric: pelvis-open-impact, value: 48, unit: deg, how: sensor, u: 1}]\n"
NUMBERS = [
    (READING.replace("u: 1", "u: " + "9" * 300), "4:79: readings, item 1: u is out of its limits."
     " Write a number at most 100000."),
    (READING.replace("u: 1", "u: 0.0000001"), "4:79: readings, item 1: u is out of its limits; it says '0.0000001'."
     " Write a number at least 0.0001."),
    (READING.replace("u: 1", "u: 181"), "4:79: 181 deg cannot be the standard uncertainty of pelvis-open-impact."
     " Look at the number and its unit (up to 180 deg)."),
    (READING.replace("48", "-1000000"), "4:48: readings, item 1: value is out of its limits; it says '-1000000'."
     " Write a number at least -100000."),
    ("readings: [{metric: pelvis-open-impact, trials: [1, 200001], unit: deg, how: sensor, u: 1}]\n",
     "4:53: readings, item 1, trials: item 2 is out of its limits; it says '200001'. Write a number at most 100000."),
    ("tempo: {start: 0, top: 1, impact: 100000000, fps: 240}\n",
     "4:35: tempo: impact is out of its limits; it says '100000000'. Write a number at most 10000000."),
    ("tempo: {start: 0, top: 1, impact: 9000000, fps: 240}\n",
     "4:8: the swing would last 37500 s. Look at the frames and at fps (up to 30 s)."),
    ("tempo: {start: 0, top: 1, impact: 999, fps: 240}\n", "4:8: the backswing would last 0.001 times as long as the"
     " downswing. Look at the three frames (0.05 to 20 times)."),
    ("tempo: {start: 0, top: 999, impact: 1000, fps: 240}\n", "4:8: the backswing would last 1e+03 times as long as the"
     " downswing. Look at the three frames (0.05 to 20 times)."),
    ("stills: [{file: a.png, view: face-on, checkpoint: top, marks: {neck: [1, 20001]}}]\n",
     "4:74: stills, item 1, marks, neck: item 2 is out of its limits; it says '20001'. Write a number at most 20000."),
    ("stills: [{file: a.png, view: face-on, checkpoint: top, scale: {from: [0, 0], to: [9, 9], length: 900 m}}]\n",
     "4:98: stills, item 1, scale: length is out of its limits; it says '900 m'. Write 0.001 to 200 m."),
    ("stills: [{file: a.png, view: face-on, checkpoint: top, camera: {distance: 0.1 mm}}]\n",
     "4:75: stills, item 1, camera: distance is out of its limits; it says '0.1 mm'. Write 0.001 to 200 m."),
    ("stills: [{file: a.png, view: face-on, checkpoint: top, camera: {distance: 4 m, height: -1 m}}]\n",
     "4:88: stills, item 1, camera: height is out of its limits; it says '-1 m'. Write 0 to 50 m."),
    ("readings_from: {file: a.csv, columns: {clubhead-speed: {column: A, unit: mph, u: 400}}}\n",
     "4:82: 400 mph cannot be the standard uncertainty of clubhead-speed."
     " Look at the number and its unit (up to 150 m/s)."),
]  # fmt: skip
COUNTS = [
    ("drills: [" + "free-lead-heel, " * 3000 + "]\n", "4:9: drills has 3000 items. At most 12."),
    ("priorities: [a, b, c]\n", "4:13: priorities has 3 items. At most 2."),
    ("comfort: [" + "{site: neck, score: 1, when: after}, " * 61 + "]\n", "4:10: comfort has 61 items. At most 60."),
    ("practice_log: [" + "{date: 2026-03-01}, " * 401 + "]\n", "4:15: practice_log has 401 items. At most 400."),
    ("stills: [" + "{file: a.png, view: face-on, checkpoint: top}, " * 31 + "]\n",
     "4:9: stills has 31 items. At most 30."),
    ("readings: [" + "{metric: a, value: 1, unit: deg, how: by-eye}, " * 61 + "]\n",
     "4:11: readings has 61 items. At most 60."),
    ("readings_from: {file: a.csv, columns: {"
     + ", ".join(f"m{n}: {{column: A, unit: deg}}" for n in range(61)) + "}}\n",
     "4:39: readings_from: columns has 61 items. At most 60."),
    ("notes: " + "a b " * 5001 + "\n", "4:8: notes is too long. Write at most 20000 characters."),
    ("focus: " + "a b " * 76 + "\n", "4:8: focus is too long. Write at most 300 characters."),
]  # fmt: skip


@pytest.mark.usefixtures("library_read_once")
@pytest.mark.parametrize(("more", "problem"), [*NUMBERS, *COUNTS], ids=lambda text: text[:40])
def test_of_a_lesson(more, problem, tmp_path):
    problems = told(make_academy(tmp_path, {LESSON_FILE: LESSON + more}), LESSON_FILE)
    assert problem in problems


TARGET = "targets: [{metric: pelvis-open-impact, low: 40, high: 50, unit: deg, reason: Yours.}]\n"


@pytest.mark.usefixtures("library_read_once")
@pytest.mark.parametrize(
    ("more", "problem"),
    [
        (TARGET.replace("50", "9" * 300),
         "4:55: targets, item 1: high is out of its limits. Write a number at most 100000."),
        (TARGET.replace("50", "181"), "4:55: 181 deg cannot be a limit of pelvis-open-impact."
         " Look at the number and its unit (-180 to 180 deg)."),
        (TARGET.replace("40", "-4000"), "4:45: -4000 deg cannot be a limit of pelvis-open-impact."
         " Look at the number and its unit (-180 to 180 deg)."),
        ("targets: [" + TARGET[10:-2].strip("[]") + (", " + TARGET[10:-2].strip("[]")) * 60 + "]\n",
         "4:10: targets has 61 items. At most 60."),
        ("watch: [" + "neck, " * 21 + "]\n", "4:8: watch has 21 items. At most 20."),
        ("shares_with: [" + "a, " * 31 + "]\n", "4:14: shares_with has 31 items. At most 30."),
        ("mail: [" + "a@example.org, " * 11 + "]\n", "4:7: mail has 11 items. At most 10."),
        ("about: " + "a b " * 5001 + "\n", "4:8: about is too long. Write at most 20000 characters."),
    ],
    ids=lambda text: text[:40],
)  # fmt: skip
def test_of_a_student(more, problem, tmp_path):
    assert told(make_academy(tmp_path, {STUDENT_FILE: STUDENT + more}), STUDENT_FILE) == [problem]


@pytest.mark.parametrize(
    ("file", "content", "problem"),
    [
        ("academy.yaml", ACADEMY + "theme: " + "a" * 301 + "\n",
         "4:8: 301 signs stand here without a space, more than 300."
         " Put spaces into it; write a long address as a link: [its name](https://...)."),
        ("metrics/own.yaml", OWN_METRIC.replace("by-eye: 2", "by-eye: 301"), "8:23: 301 cm cannot be the standard"
         " uncertainty of own. Look at the number and its unit (up to 3 m)."),
        ("metrics/own.yaml", OWN_METRIC.replace("What.", "a b " * 501),
         "6:10: explain is too long. Write at most 2000 characters."),
        ("bands/own.yaml", OWN_BANDS.replace("low: 1", "low: -181"), "3:33: -181 deg cannot be a limit of"
         " side-bend-impact. Look at the number and its unit (-180 to 180 deg)."),
        ("bands/own.yaml", OWN_BANDS.replace("[male]", "[" + "male, " * 21 + "]"),
         "3:48: bands, item 1, fits: sex has 21 items. At most 20."),
        ("safety/own.yaml", OWN_RULE.replace("{always: true}", "{finding: {metric: side-bend-impact, at_least: 181}}"),
         "2:147: 181 deg cannot be a limit of side-bend-impact. Look at the number and its unit (-180 to 180 deg)."),
        ("safety/own.yaml", OWN_RULE.replace("{always: true}", "{not: " * 30 + "{always: true}" + "}" * 30),
         "2:202: lists or blocks stand more than 20 deep. Take out some brackets."),
        ("safety/own.yaml", OWN_RULE.replace("{always: true}", "{any: [" + "{always: true}, " * 21 + "]}"),
         "2:106: rules, item 1, when: any has 21 items. At most 20."),
        ("drills/own.md", OWN_DRILL.replace("## Feel\nSome text.", "## Feel\n" + "a b " * 501),
         "15:4: the section Feel is too long. Write at most 2000 characters."),
        ("drills/own.md", OWN_DRILL.replace("## Feel\nSome text.", "## Feel\n\nSome\ntext " + "*a " * (MARKS + 1)),
         "18:1206: the text has more than 400 signs of emphasis, links and code (* _ [ ] ` <)."
         " Take some of them out."),
    ],
    ids=lambda text: text[:40],
)  # fmt: skip
def test_of_the_academy_and_its_library(file, content, problem, tmp_path):
    assert problem in told(make_academy(tmp_path, {file: content}), file)


NOTES = [
    ("x" * 20_000, "20000 signs stand here without a space, more than 300"),
    ("&" * 301, "301 signs stand here without a space, more than 300"),
    ("漢" * 1001, "1001 signs stand here without a space, more than 1000"),
    ("a\u00a0" * 150 + "ab", "302 signs stand here without a space, more than 300"),
    (("y" * 81 + " ") * (LONG_WORDS + 1), "the text has more than 3 words of over 80 signs"),
    ("*a " * 401, "the text has more than 400 signs of emphasis, links and code (* _ [ ] ` <)"),
    ("[a](b) " * 201, "the text has more than 400 signs of emphasis, links and code (* _ [ ] ` <)"),
    ("\u202ea \u202c" * 501, "the text has more than 1000 pictographs and marks of direction"),
    ("🏌 " * 1001, "the text has more than 1000 pictographs and marks of direction"),
    ("> > > > > > > > > a", "quotes and lists stand more than 8 deep"),
    ("- " * 9 + "a", "quotes and lists stand more than 8 deep"),
]


def told_of_notes(written):
    return [f"{p.line}:{p.column}: {p.wrong}" for p in sheet_of(LESSON + written, LESSON_FILE, Lesson)[1]]


@pytest.mark.parametrize(("text", "wrong"), NOTES, ids=lambda text: text[:12])
def test_of_what_a_letter_is_made_of(text, wrong):
    text = text.strip()
    assert told_of_notes(f'notes: "{text}"\n') == [f"4:8: {wrong}"]
    first = told_of_notes(f"notes: |\n  One.\n\n  {text}\n  " + "b\n  " * 40)[0]
    line, _, told = first.split(":", 2)
    assert (line, told.strip()) == ("7", wrong)


def test_the_line_that_is_too_many_is_told():
    assert told_of_notes("notes: |\n" + "  a\n" * (LINES + 1)) == [f"{5 + LINES}:4: the text has more than 300 lines"]


def test_the_list_item_that_is_too_many_is_told():
    assert told_of_notes("notes: |\n" + "  > - > - a\n" * 40) == [
        "42:3: the text has more than 150 list items and quotes"
    ]


def test_the_place_is_that_of_the_word():
    assert told_of_notes("notes: |\r\n   One.\r\n   Then " + "x" * 301 + "\r\n") == [
        "6:9: 301 signs stand here without a space, more than 300"
    ]


@pytest.mark.parametrize(
    "text",
    [
        "Look at [this](https://example.org/" + "x" * 600 + ").",
        "https://example.org/" + "y" * 200,
        "*a* " * (MARKS // 2),
        "🏌 " * RARE,
        "漢字" * 400,
        "> - > - > - a",
    ],
    ids=lambda text: text[:12],
)
def test_what_a_letter_may_hold(text):
    assert told_of_notes(f'notes: "{text}"\n') == []


def written(value):
    return f"{value:.12f}".rstrip("0").rstrip(".")


@pytest.mark.usefixtures("library_read_once")
@pytest.mark.parametrize("end", ["low", "high", "near"])
@pytest.mark.parametrize("u", ["0.0001", "high"])
def test_numbers_at_their_bounds_are_judged(end, u, tmp_path, shipped_library):
    """Every metric at the end of its numbers, two lessons of it, in every unit that measures it."""
    sheets = {}
    metrics = [metric for metric in shipped_library[0].metrics.values() if "full-swing" in metric.kinds]
    for number in range(1, 5):
        readings = []
        for metric in metrics:
            of = UNITS[metric.unit].dimension
            units = [u for u in UNITS if UNITS[u].dimension == of and span_of(u, metric).within(u)[1] <= MOST]
            unit = units[number % len(units)]
            low, high = span_of(unit, metric).within(unit)
            value = {"low": low, "high": high, "near": low + (high - low) * number * 1e-9}[end]
            inward = value + (1e-9 if end != "high" else -1e-9) * (high - low)
            further = value + (1e-7 if end != "high" else -1e-7) * (high - low)
            exact = written(high * (1 - 1e-9)) if u == "high" else u
            trials = f"trials: [{written(inward)}, {written(further)}]"
            readings.append(f"  - {{metric: {metric.id}, {trials}, unit: '{unit}', how: sensor, u: {exact}}}\n")
        day = f"2026-03-0{number}"
        sheets[f"students/mara-l/lessons/{day}.yaml"] = (
            f"student: mara-l\ndate: {day}\nclub: 7-iron\nreadings:\n" + "".join(readings)
        )
    targets = "targets:\n" + "".join(
        f"  - {{metric: {metric.id}, low: {low}, high: {high}, unit: '{metric.unit}', reason: Yours.}}\n"
        for metric in metrics
        for high in [span_of(metric.unit, metric).within(metric.unit)[1]]
        for low in [-high if end == "high" else high - 0.0001]
    )
    folder = load(make_academy(tmp_path, {STUDENT_FILE: STUDENT + targets, **sheets}))
    student = folder.students["mara-l"]
    assert student.problems == ()
    reports = tell_all(reports_of(student, sound(folder)), folder.library, Reader())
    assert len(reports) == 5
    for report in reports:
        assert all(math.isfinite(number) for number in numbers_in(report.model_dump()))
    assert student_site(reports, sound(folder), recaps=False)


def numbers_in(value):
    if isinstance(value, float):
        yield value
    elif isinstance(value, dict | list | tuple):
        for inner in value.values() if isinstance(value, dict) else value:
            yield from numbers_in(inner)


@given(text=st.text(st.sampled_from("ab *_[]()<>`\"'!#-&\\~\n\t\u00a0漢🏌\u202e\u0301.>1"), max_size=400))
def test_any_text_is_told_of_in_no_time(text):
    began = time.process_time()
    sheet_of(LESSON + "notes: |\n  " + text.replace("\n", "\n  ") + "\n", LESSON_FILE, Lesson)
    assert time.process_time() - began < 1


def test_the_longest_section_is_read(tmp_path):
    drill = OWN_DRILL.replace("## Feel\nSome text.", "## Feel\n" + ("a b " * 500).strip())
    assert len("a b " * 500) == TEXT
    assert told(make_academy(tmp_path, {"drills/own.md": drill}), "drills/own.md") == []

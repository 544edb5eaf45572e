"""Whatever stands in a file, reading it gives a record or problems: no exception, no long wait, nothing written."""

import re
import shutil
import time
from datetime import date

import pytest
import yaml
from hypothesis import example, given, settings
from hypothesis import strategies as st

from reportgen.records.academy import Academy, Student
from reportgen.records.content import BandFile, Drill, Metric
from reportgen.records.lesson import Lesson
from reportgen.records.practice import PracticeRules
from reportgen.records.safety import SafetyFile
from reportgen.sheets import academy_folder
from reportgen.sheets.academy_folder import load_academy
from reportgen.sheets.drill_files import read_drill
from reportgen.sheets.problems import Problem
from reportgen.sheets.reading import Sheet, read_sheet
from reportgen.sheets.shipped import shipped
from tests.sheets.academies import DEMO, LESSON, demo_student
from tests.strategies import slipped, yamlish

KINDS = {"lesson": Lesson, "student": Student, "academy": Academy, "bands": BandFile, "metric": Metric}
KINDS |= {"safety": SafetyFile, "drill": Drill, "practice": PracticeRules}
MOST_PLACES = 60
SECONDS = 5.0
"""Far above what a file takes (0.5 s at most), and far below what a person waits for."""


def written_at(*patterns, of):
    return [file.read_text(encoding="utf-8") for pattern in patterns for file in sorted(of.glob(pattern))]


CONTENT = shipped("content")
SHEETS = {
    "lesson": written_at("students/*/lessons/*.yaml", of=DEMO),
    "student": written_at("students/*/student.yaml", of=DEMO),
    "academy": written_at("academy.yaml", of=DEMO),
    "bands": written_at("bands/*.yaml", of=CONTENT)[::4],
    "metric": written_at("metrics/*.yaml", of=CONTENT)[::4],
    "practice": written_at("practice.yaml", of=CONTENT),
    "safety": written_at("safety/*.yaml", of=CONTENT),
    "drill": written_at("drills/*.md", of=CONTENT)[::8],
}


@pytest.fixture(scope="module")
def read(tmp_path_factory):
    """Reads these bytes as a file of a kind, and looks that what comes out is a record or problems, in time."""
    file = tmp_path_factory.mktemp("any") / "own.yaml"

    def read_one(kind, content):
        raw = content if isinstance(content, bytes) else content.encode("utf-8", "surrogatepass")
        file.write_bytes(raw)
        began = time.process_time()
        sheet, problems = read_drill(file, "own.md") if kind == "drill" else read_sheet(file, "own.yaml", KINDS[kind])
        assert time.process_time() - began < SECONDS
        assert sheet is not None or problems
        assert sheet is None or (isinstance(sheet, Sheet) and isinstance(sheet.record, KINDS[kind]))
        lines = len(re.split("\r\n|[\r\n\x85\u2028\u2029]", raw.decode("utf-8", "replace")))
        for problem in problems:
            assert isinstance(problem, Problem)
            assert 1 <= problem.line <= lines
            assert problem.column >= 1
            assert problem.wrong
            assert problem.mend
            assert not re.search("[\x00-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ud800-\udfff]", str(problem))
        assert file.read_bytes() == raw
        return problems

    return read_one


@settings(max_examples=150)
@given(kind=st.sampled_from(sorted(KINDS)), text=yamlish)
@example("lesson", "? |\n  a\n  b\n: c\n")
@example("student", "name: &a [*a]\n")
def test_text_that_is_nearly_yaml(read, kind, text):
    read(kind, text)


@settings(max_examples=100)
@given(kind=st.sampled_from(sorted(KINDS)), raw=st.binary(max_size=200))
def test_bytes(read, kind, raw):
    read(kind, raw)


@settings(max_examples=100)
@given(kind=st.sampled_from(sorted(KINDS)), text=st.text(max_size=80))
def test_any_text(read, kind, text):
    read(kind, text)


@pytest.mark.parametrize("kind", sorted(KINDS))
@settings(max_examples=40)
@given(data=st.data())
def test_sheets_with_a_few_slips(read, kind, data):
    read(kind, data.draw(slipped(SHEETS[kind])))


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_the_sheets_without_slips_have_no_problem(read, kind):
    for text in SHEETS[kind]:
        assert read(kind, text) == []


OF_ANOTHER_KIND = [None, 7, "a word", date(2026, 3, 5), [], {}, [[]]]


def places(value, path=()):
    """Every place in a value, as keys and numbers from its top."""
    yield path
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, one in inner:
        yield from places(one, (*path, key))


def with_other(value, path, other):
    """The value with another one at that place."""
    if not path:
        return other
    changed = value.copy()
    changed[path[0]] = with_other(value[path[0]], path[1:], other)
    return changed


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_every_place_of_a_sheet_with_a_value_of_another_kind(read, kind):
    """Each value of a sheet is taken by several checks, and every one of them meets every kind of value."""
    longest = max(SHEETS[kind], key=len)
    front, rest = (longest.split("---\n", 2)[1], longest.split("---\n", 2)[2]) if kind == "drill" else (longest, None)
    data = yaml.load(front, yaml.CSafeLoader)
    every = list(places(data))
    for path in every[:: 1 + len(every) // MOST_PLACES]:
        for other in OF_ANOTHER_KIND:
            text = yaml.dump(with_other(data, path, other), Dumper=yaml.CSafeDumper, sort_keys=False)
            read(kind, text if rest is None else f"---\n{text}---\n{rest}")


N = 1_000_000
LONG = {
    "empty items": "drills:\n" + "  -\n" * (N // 4),
    "items in brackets": "drills: [" + "a," * (N // 2 - 50) + "]",
    "faulty items": "drills: [" + "A," * (N // 2 - 50) + "]",
    "empty readings": "readings: [" + "{}," * (N // 3 - 50) + "]",
    "unknown keys": "".join(f"k{number}: 1\n" for number in range(N // 13)),
    "unknown marks": "stills: [{marks: {" + "".join(f"k{n}: [1], " for n in range(N // 14)) + "}}]",
    "one key again and again": "a: 1\n" * (N // 5),
    "hyphens": "a: " + "- " * (N // 2),
    "braces": "a: " + "{" * N,
    "brackets": "a: " + "[" * N,
    "question marks": "? " * (N // 2),
    "anchors": "a: [" + "&a b," * (N // 5) + "]",
    "aliases": "a: &a x\nb: [" + "*a," * (N // 3) + "]",
    "digits": "focus: " + "1" * N,
    "digits and colons": "focus: " + "1:" * (N // 2),
    "digits and underscores": "focus: " + "1_" * (N // 2) + "x",
    "an exponent": "focus: 1e" + "9" * (N // 2),
    "one word": "x" * N,
    "quotes": "'" * N,
    "blanks": "focus:" + " " * N + "x",
    "line ends": "focus:" + "\n" * N + "x",
    "tabs": "focus:" + "\t" * N,
    "documents": "---\n" * (N // 4),
    "tags": "a: [" + "!x b," * (N // 5) + "]",
    "decimal commas": "readings: [{trials: [" + "12,5, " * (N // 6) + "]}]",
    "a long text in front of a fault": "notes: |\n" + "  More.\n" * (N // 8) + "%",
}


@pytest.mark.parametrize("text", LONG.values(), ids=LONG)
def test_a_file_of_1_mib_takes_no_long_time(read, text):
    read("lesson", LESSON + text)


YAML_STYLES = [
    "",
    "# only a remark\n",
    "%YAML 1.2\n---\nstudent: mara-l\n",
    "--- # first\nstudent: mara-l\n...\n# after\n",
    "--- |\n literal\n--- >\n folded\n",
    "--- !<tag:example.org,2026:sheet>\nstudent: mara-l\n",
    '"student" : "mara-l"\n',
    "'student': 'it''s'\n",
    '{"student": "mara-l", "date": "2026-03-05", "club": "7-iron"}\n',
    "{student: mara-l, date, club: }\n",
    "? student\n: mara-l\n? date\n",
    "- - - deep\n- [a, [b, {c: d}]]\n",
    "[[], {}, [{}], {a: []}]\n",
    "[a: b, c: d]\n",
    "student: |2-\n    mara-l\n\n",
    "student: >+\n\n  mara-l\n\n  more\n\n",
    "student: |9\n x\n",
    'notes: "\\x41\\u00e9\\U0001F3CC \\\n  joined"\n',
    'notes: "\\ud800"\n',
    "notes: plain text\n  over lines\n\n  and more\n",
    "notes: a#b # c\n",
    "notes: [a, b\n  , c]\n",
    "a: &x !!str b\nc: *x\n",
    "&key student: mara-l\n*key : date\n",
    "!!map {student: mara-l}\n",
    "!!binary aGk=\n",
    "student: !!null\ndate: !!int '3'\n",
    "student:\n- a\n-  - b\n   - c\n",
    "student:\r\n  - a\r  - b\n",
    "\ufeffstudent: mara-l\n",
    "student: mara-l\n\ufeffdate: x\n",
    "student: mara-l\n... trailing\n",
    ": : :\n",
    "-\n-\n  -\n",
    "a: b: c\n",
    "a:\n\t b\n",
    "'unclosed\n",
    "{a: b\nc: d}\n",
    "@reserved\n",
    "`reserved`\n",
    "a: 'b'c\n",
    "<<: [*a, *b]\n",
]
"""Documents in the manner of a conformance suite: valid, invalid and odd."""


@pytest.mark.parametrize("text", YAML_STYLES, ids=range(len(YAML_STYLES)))
@pytest.mark.parametrize("kind", ["lesson", "safety", "drill"])
def test_documents_of_every_style(read, kind, text):
    read(kind, text)
    if kind == "drill":
        read(kind, f"---\n{text}\n---\n## Set-up\n{text}\n")


def tree_of(root):
    """Every file of a folder with its bytes and the time of its last change."""
    return {f: (f.read_bytes(), f.stat().st_mtime_ns) if f.is_file() else None for f in root.rglob("*")}


@pytest.fixture(scope="module")
def copied(tmp_path_factory, shipped_library):
    """One student of the demo in an academy of their own; the shipped library is read once for all."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(academy_folder, "load_library", lambda content, own: (shipped_library[0], []))
        yield demo_student(tmp_path_factory.mktemp("copied") / "academy", "wren-castellow")


def slipped_file(file, content):
    """A sheet with a few slips, or a picture with a few bytes written over."""
    if file.suffix == ".yaml":
        return slipped([content.decode()]).map(lambda text: text.encode("utf-8", "surrogatepass"))
    places = st.tuples(st.integers(0, len(content) - 1), st.binary(max_size=4))
    return places.map(lambda place: content[: place[0]] + place[1] + content[place[0] + 4 :])


@settings(max_examples=60)
@given(data=st.data())
def test_a_whole_academy_with_slips_in_some_files(copied, data):
    files = sorted(f for f in copied.rglob("*") if f.is_file())
    chosen = data.draw(st.lists(st.sampled_from(files), min_size=1, max_size=3, unique=True))
    before = {file: file.read_bytes() for file in chosen}
    slips = {file: data.draw(slipped_file(file, before[file])) for file in chosen}
    try:
        for file, content in slips.items():
            file.write_bytes(content)
        there = tree_of(copied.parent)
        began = time.process_time()
        folder = load_academy(copied)
        assert time.process_time() - began < SECONDS
        assert all(isinstance(problem, Problem) for problem in folder.problems)
        assert folder.problems == sorted(folder.problems)
        assert tree_of(copied.parent) == there
    finally:
        for file, content in before.items():
            file.write_bytes(content)


def test_reading_the_demo_writes_nothing(tmp_path):
    shutil.copytree(DEMO, tmp_path / "academy")
    before = tree_of(tmp_path)
    assert load_academy(tmp_path / "academy").problems == []
    assert tree_of(tmp_path) == before

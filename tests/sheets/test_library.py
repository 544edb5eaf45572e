"""The academy's own metrics, bands, drills and rules beside the shipped ones."""

import re

import pytest

from reportgen.records.content import Band, Fits
from reportgen.sheets.academy_folder import load_academy
from reportgen.sheets.library import load_library, tied
from reportgen.sheets.shipped import shipped
from tests.sheets.academies import LESSON, LESSON_FILE, make_academy, write

CONTENT = shipped("content")
OWN_BAND = "    basis: instructor\n    limits: mine\n    source: my own students\n"


def test_an_own_band_takes_the_place_of_the_shipped_one_of_its_id_and_no_other(tmp_path, shipped_library):
    band = "  - id: pelvis-open-impact-adult\n    for: my adults\n    low: 0.5\n    high: 0.9\n"
    own = f"metric: pelvis-open-impact\nunit: rad\nbands:\n{band}    fits: {{stage: [adult]}}\n{OWN_BAND}"
    write(tmp_path, "bands/hips.yaml", own)
    library, problems = load_library(CONTENT, tmp_path)
    assert problems == []
    bands = {band.id: band for band in library.bands["pelvis-open-impact"]}
    before = {band.id: band for band in shipped_library[0].bands["pelvis-open-impact"]}
    assert bands["pelvis-open-impact-adult"].for_ == "my adults"
    assert bands["pelvis-open-impact-adult"].low == pytest.approx(28.6479, abs=1e-4)
    assert {**bands, "pelvis-open-impact-adult": before["pelvis-open-impact-adult"]} == before


def test_an_own_drill_takes_the_place_of_the_shipped_one(tmp_path, shipped_library):
    text = (CONTENT / "drills/free-lead-heel.md").read_text(encoding="utf-8")
    write(tmp_path, "drills/free-lead-heel.md", re.sub(r"(?m)^title: .*$", "title: Heel of my own", text))
    library, problems = load_library(CONTENT, tmp_path)
    assert problems == []
    assert library.drills["free-lead-heel"].title == "Heel of my own"
    assert set(library.drills) == set(shipped_library[0].drills)


def test_a_count_of_an_own_drill_without_a_test_is_a_problem_at_its_line(tmp_path):
    text = (CONTENT / "drills/free-lead-heel.md").read_text(encoding="utf-8")
    own = re.sub(r"(?m)^test:\n(?: .*\n)+", "", text)
    log = "practice_log:\n  - {date: 2026-03-01, test: {drill: free-lead-heel, made: 7}}\n"
    root = make_academy(tmp_path, {"drills/free-lead-heel.md": own, LESSON_FILE: LESSON + log})
    assert [str(problem) for problem in load_academy(root).problems] == [
        f"{LESSON_FILE}:5:38: the drill free-lead-heel has no test. "
        "Write test: into drills/free-lead-heel.md, or take the count out."
    ]


def test_an_own_metric_takes_the_place_of_the_shipped_one(tmp_path):
    text = (CONTENT / "metrics/side-bend-impact.yaml").read_text(encoding="utf-8")
    write(tmp_path, "metrics/side-bend-impact.yaml", re.sub(r"(?m)^short: .*$", "short: Leaning", text))
    library, problems = load_library(CONTENT, tmp_path)
    assert problems == []
    assert library.metrics["side-bend-impact"].short == "Leaning"


def test_an_own_rule_takes_the_place_of_the_shipped_one(tmp_path, shipped_library):
    name = next(iter(shipped_library[0].rules))
    rule = f"rules:\n  - {{id: {name}, level: note, when: {{always: true}}, student: Mine., instructor: Mine.,"
    write(tmp_path, "safety/own.yaml", rule + " basis: instructor, source: my own}\n")
    library, problems = load_library(CONTENT, tmp_path)
    assert problems == []
    assert library.rules[name].student == "Mine."
    assert len(library.rules) == len(shipped_library[0].rules)


OWN_CAUSE = (
    "causes:\n"
    "  - id: {id}\n"
    "    cause: {{what: thorax-open-impact, side: above}}\n"
    "    effect: {{what: {effect}, side: below}}\n"
    "    basis: teachers hold\n"
    "    source: my own\n"
)


def test_an_own_cause_takes_the_place_of_the_shipped_one_of_its_id(tmp_path, shipped_library):
    write(tmp_path, "causes/own.yaml", OWN_CAUSE.format(id="shoulders-open-path-in", effect="low-point"))
    library, problems = load_library(CONTENT, tmp_path)
    assert problems == []
    assert library.causes["shoulders-open-path-in"].effect.what == "low-point"
    assert set(library.causes) == set(shipped_library[0].causes)


def test_an_own_cause_can_speak_of_an_own_metric(tmp_path, shipped_library):
    metric = (CONTENT / "metrics/side-bend-impact.yaml").read_text(encoding="utf-8")
    write(tmp_path, "metrics/own-lean.yaml", re.sub(r"(?m)^id: .*$", "id: own-lean", metric))
    write(tmp_path, "causes/own.yaml", OWN_CAUSE.format(id="own-row", effect="own-lean"))
    library, problems = load_library(CONTENT, tmp_path)
    assert problems == []
    assert set(library.causes) - set(shipped_library[0].causes) == {"own-row"}


def test_lessons_may_name_own_metrics_and_drills(tmp_path):
    metric = (CONTENT / "metrics/side-bend-impact.yaml").read_text(encoding="utf-8")
    drill = (CONTENT / "drills/free-lead-heel.md").read_text(encoding="utf-8")
    root = make_academy(
        tmp_path,
        {
            "metrics/own-lean.yaml": re.sub(r"(?m)^id: .*$", "id: own-lean", metric),
            "drills/own-heel.md": re.sub(r"(?m)^id: .*$", "id: own-heel", drill),
            "students/mara-l/lessons/2026-03-05.yaml": "student: mara-l\ndate: 2026-03-05\nclub: driver\n"
            "readings: [{metric: own-lean, value: 12, unit: deg, how: by-eye}]\ndrills: [own-heel]\n",
        },
    )
    assert load_academy(root).problems == []


@pytest.mark.parametrize("name", ["bands/own.yml", "metrics/own.YAML", "drills/own.markdown", "safety/own.yml"])
def test_a_file_that_its_name_keeps_from_being_read_is_told(name, tmp_path):
    write(tmp_path, name, "x")
    _, problems = load_library(CONTENT, tmp_path)
    ending = ".md" if name.startswith("drills") else ".yaml"
    assert [str(p) for p in problems] == [f"{name}:1:1: the file is not read. Name it own{ending}."]


@pytest.mark.parametrize("name", ["bands/README.md", "drills/own.mp4", "safety/.own.yml"])
def test_files_that_belong_beside_the_library_are_passed_over(name, tmp_path):
    write(tmp_path, name, "x")
    assert load_library(CONTENT, tmp_path)[1] == []


def band(name, **fits):
    return Band(
        id=name, for_="some", low=1, high=2, fits=Fits(**fits), basis="memory", limits="a span", source="memory"
    )


@pytest.mark.parametrize(
    ("first", "second", "tie"),
    [
        ({}, {}, True),
        ({"stage": ["adult"]}, {"stage": ["senior"]}, False),
        ({"stage": ["adult"]}, {"stage": ["adult", "senior"]}, True),
        ({"stage": ["adult"]}, {"hips": ["restricted"]}, True),
        ({"stage": ["adult"]}, {"stage": ["adult"], "hips": ["restricted"]}, False),
        ({"sex": ["female"]}, {"sex": ["male"]}, False),
        ({"club": ["driver"]}, {"club": ["iron"]}, False),
        ({"pressure_style": ["reverse"]}, {"club": ["iron"]}, True),
    ],
)
def test_bands_tie_where_some_student_fits_both_equally_well(first, second, tie):
    assert (tied((band("a", **first), band("b", **second))) is not None) == tie


def test_a_tie_that_a_more_specific_band_settles_is_none():
    bands = (
        band("a", stage=["adult"]),
        band("b", hips=["restricted"]),
        band("c", stage=["adult"], hips=["restricted"]),
    )
    assert tied(bands) is None

"""Pages, recaps and mails in the language and the units of whom they are for."""

import re
from collections.abc import Iterator
from pathlib import Path
from xml.etree.ElementTree import Element

import pytest

from reportgen.pipeline import reports_of
from reportgen.records.told import ToldLesson
from reportgen.saying.readers import Reader, reader_of
from reportgen.saying.telling import tell_all
from reportgen.sheets.academy_folder import sound
from reportgen.sheets.loading import load
from tests.access.kinds import show
from tests.access.test_fits import FITS, TOO_WIDE
from tests.languages.conftest import HENRIK, add_to, english_pieces, speak
from tests.publishing.small import BETTINA, MIRO, PETRA, reportgen, small_academy
from tests.site.chromium import Chromium
from tests.site.published import Page, pdf_text, plain

NOT_TRANSLATED = re.compile(r"^(?:[\W\d]|cm|mm|kg|min|https?:)*$")
OWN_WORDS = ("notice", "notes", "focus")
LETTERS = re.compile(r"[A-Za-zÀ-ÿ]")


def pages_of(site: Path, language: str) -> list[Page]:
    """Every page of that language: students' pages, the library, the desk and the guide."""
    found = [Page(p) for p in [*site.glob("upload/**/*.html"), *site.glob("desk/**/*.html")]]
    return [page for page in found if page.root.get("lang") == language]


@pytest.mark.parametrize(("code", "least"), [("de", 20), ("fr", 6)])
def test_no_sentence_of_the_program_or_its_library_is_left_in_english(german: Path, code: str, least: int) -> None:
    pages, pieces = pages_of(german, code), english_pieces(code)
    assert len(pages) >= least
    assert len(pieces) > 500
    for page in pages:
        text = plain(" ".join(_read_aloud(page.root)))
        assert [piece for piece in pieces if piece in text] == [], page.path


def _read_aloud(element: Element) -> Iterator[str]:
    """The texts of a page without what one types, which is the same in every language."""
    if element.tag != "code":
        yield element.text or ""
        for inner in element:
            yield from _read_aloud(inner)
            yield inner.tail or ""


def test_titles_and_what_pictures_say_are_translated_too(german: Path) -> None:
    pieces = english_pieces("de")
    for page in pages_of(german, "de"):
        named = ("alt", "aria-label", "title", "placeholder")
        said = "\n".join(e.get(name, "") for e in page.root.iter() for name in named)
        assert [piece for piece in pieces if piece in said] == [], page.path


def test_each_student_reads_their_own_language(german: Path) -> None:
    homes = {Page(p).root.get("lang"): Page(p).text for p in german.glob("upload/s/*/index.html")}
    assert sorted(homes) == ["de", "fr"]
    assert "Golfstunde" in homes["de"]
    assert "Henrik" in homes["fr"]
    assert "leçon" in homes["fr"] or "séance" in homes["fr"]


def test_the_desk_is_in_the_academys_language_for_every_student(german: Path) -> None:
    desk = Page(german / "desk" / "index.html")
    assert desk.root.get("lang") == "de"
    french = english_pieces("fr")
    assert [piece for piece in french if piece in desk.text] == []


def test_a_decimal_is_written_as_the_language_writes_it(german: Path) -> None:
    for page in pages_of(german, "fr"):
        assert not re.search(r"\d\.\d+\s(?:po|mi/h|cm)", page.text), page.path
    assert any(re.search(r"\d,\d\spo", page.text) for page in pages_of(german, "fr"))


def test_dates_are_written_as_the_language_writes_them(german: Path) -> None:
    text = " ".join(page.text for page in pages_of(german, "fr"))
    assert re.search(r"\d{1,2} (?:octobre|novembre) 2026", text)
    assert not re.search(r"\b(?:October|November|Thursday|Monday)\b", text)


def test_the_recap_is_in_the_language_too(german: Path) -> None:
    (recap,) = [
        p for p in german.glob("upload/s/*/2026-*/recap.pdf") if Page(p.parent / "index.html").root.get("lang") == "fr"
    ][:1]
    text = " ".join(pdf_text(recap).split())
    assert [piece for piece in english_pieces("fr") if piece in text] == []
    assert "po" in text


@pytest.fixture(scope="module")
def both(tmp_path_factory: pytest.TempPathFactory) -> tuple[tuple[ToldLesson, ...], tuple[ToldLesson, ...]]:
    """Henrik's lessons in metric units, and in inches and miles an hour."""
    folder = load(small_academy(tmp_path_factory.mktemp("units") / "academy", HENRIK, MIRO))
    judged = reports_of(folder.students[HENRIK], sound(folder))
    return tell_all(judged, folder.library, Reader()), tell_all(judged, folder.library, Reader(units="imperial"))


def test_lengths_and_speeds_are_in_inches_and_miles_an_hour(
    both: tuple[tuple[ToldLesson, ...], tuple[ToldLesson, ...]],
) -> None:
    """NIST SP 811 (2008), Appendix B.8: 1 in = 2.54 cm, 1 mi/h = 0.44704 m/s, both exact."""
    factors = {"cm": ("in", 2.54), "m/s": ("mph", 0.44704)}
    metric, imperial = both
    changed = 0
    for before, after in zip(metric, imperial, strict=True):
        for one, other in zip(before.findings, after.findings, strict=True):
            unit, factor = factors.get(one.unit, (one.unit, 1.0))
            changed += factor != 1
            assert other.unit == unit
            assert [other.value, other.u] == pytest.approx([one.value / factor, one.u / factor], rel=1e-12)
            if one.band is not None and other.band is not None and one.band.low is not None:
                assert other.band.low == pytest.approx(one.band.low / factor, rel=1e-12)
    assert changed > 3


def test_units_change_no_judgement(both: tuple[tuple[ToldLesson, ...], tuple[ToldLesson, ...]]) -> None:
    for before, after in zip(*both, strict=True):
        assert [f.verdict for f in before.findings] == [f.verdict for f in after.findings]
        both_judged = [
            (one.probability, other.probability) for one, other in zip(before.findings, after.findings, strict=True)
        ]
        assert all((one is None) == (other is None) for one, other in both_judged)
        assert [one or 0.0 for one, _ in both_judged] == pytest.approx(
            [other or 0.0 for _, other in both_judged], rel=1e-9
        )
        assert [c.rule for c in before.cautions] == [c.rule for c in after.cautions]
        assert [p.metric for p in before.priorities] == [p.metric for p in after.priorities]
        assert [d.drill for d in before.drills] == [d.drill for d in after.drills]


def test_neither_language_nor_units_change_a_byte_of_what_was_judged(tmp_path: Path) -> None:
    academy = small_academy(tmp_path / "academy", PETRA)
    (student,) = academy.glob("students/*/student.yaml")
    written, judged = student.read_text(encoding="utf-8"), set()
    for more in ("", "language: de\n", "language: fr\nunits: imperial\n"):
        student.write_text(written + more, encoding="utf-8")
        folder = load(academy)
        reports = reports_of(folder.students[PETRA], sound(folder))
        judged.add("\n".join(report.model_dump_json() for report in reports))
    assert len(judged) == 1


def test_a_language_without_a_catalogue_is_a_problem_at_its_line(tmp_path: Path) -> None:
    academy = small_academy(tmp_path / "academy", PETRA)
    speak(academy, "it")
    checked = reportgen("check", academy)
    assert checked.exit_code == 1
    line = len((academy / "academy.yaml").read_text(encoding="utf-8").splitlines())
    assert f"academy.yaml:{line}:11: there is no catalogue of the language it" in checked.output
    assert "Write one of en, de, fr, or put a catalogue languages/it.po into the academy." in checked.output


def test_a_broken_catalogue_is_a_problem_too(tmp_path: Path) -> None:
    academy = small_academy(tmp_path / "academy", PETRA)
    (academy / "languages").mkdir()
    (academy / "languages" / "it.po").write_text("this is no catalogue\n", encoding="utf-8")
    speak(academy, "it")
    checked = reportgen("check", academy)
    assert checked.exit_code == 1
    assert "languages/it.po:1:1: this is no catalogue of messages" in checked.output


def test_a_student_reads_what_student_yaml_says(tmp_path: Path) -> None:
    folder = load(small_academy(tmp_path / "academy", PETRA, BETTINA))
    student, home = folder.students[PETRA].student, sound(folder)
    assert student is not None
    own = student.model_copy(update={"language": "fr", "units": "imperial"})
    reader = reader_of(own, home)
    assert (reader.language.code, reader.units) == ("fr", "imperial")
    assert reader_of(student, home) == Reader()


@pytest.mark.parametrize("width", [360, 1280])
def test_pages_that_are_read_from_the_right_fit_and_begin_there(
    chromium: Chromium, from_the_right: Path, width: int
) -> None:
    pages = pages_of(from_the_right, "he")
    assert len(pages) > 5
    for page in pages:
        assert page.root.get("dir") == "rtl", page.path
    for path in [*from_the_right.glob("upload/s/*/index.html"), *from_the_right.glob("upload/s/*/2026-*/index.html")]:
        show(chromium, path.as_uri(), width)
        assert chromium.run(TOO_WIDE) == FITS, path
        heading = chromium.run(
            "const b = document.querySelector('h1').getBoundingClientRect(); return [b.left, b.right]"
        )
        assert chromium.run("return getComputedStyle(document.querySelector('main')).direction") == "rtl"
        assert heading[1] > width / 2


def test_the_terminal_speaks_english_and_measures_as_the_academy(tmp_path: Path) -> None:
    academy = small_academy(tmp_path / "academy", HENRIK, MIRO)
    speak(academy, "de")
    add_to(academy / "students" / HENRIK / "student.yaml", "language: fr\nunits: imperial")
    said = reportgen("findings", academy, HENRIK).output
    assert "too close" in said
    assert re.search(r"\d\scm", said)
    assert "Needs a face-on picture" in said

"""What a finder of the address, or the host itself, can learn from a sealed site: nothing of what it says."""

import re
from base64 import b64encode
from collections.abc import Iterator
from functools import cache
from hashlib import sha256
from pathlib import Path

import pytest
import yaml

from reportgen.sheets.academy_folder import load_academy
from reportgen.sheets.shipped import shipped
from tests.publishing.small import MIRO, PETRA
from tests.site.published import Page, plain
from tests.site.sealed import GUEST, SealedSite

THEME = shipped("themes") / "letter"
SHELL = (
    "sealed.html",
    "sealed.css",
    "sealed-open.js",
    "sealed-routes.js",
    "sealed-show.js",
    "sealed.js",
    "swing.js",
    "library.js",
    "style.css",
)
"""What may be read by everybody: the text of the page that asks for the passphrase, and the style."""


@cache
def _private(academy: Path) -> frozenset[str]:
    """Names, ids, metric names, drill titles, and every word of six letters or more that is written of a student."""
    folder = load_academy(academy)
    assert folder.academy is not None
    said = {drill.title for drill in folder.library.drills.values()} | set(folder.library.drills)
    said |= {metric.name for metric in folder.library.metrics.values()} | set(folder.library.metrics)
    for name, student in folder.students.items():
        assert student.student is not None
        said |= {name, student.student.name, *student.student.name.split()}
        for sheet in (academy / "students" / name).rglob("*.yaml"):
            written = " ".join(_texts(yaml.safe_load(sheet.read_text(encoding="utf-8"))))
            said |= set(re.findall(r"[^\W\d_]{6,}", written))
    shell = " ".join((THEME / name).read_text(encoding="utf-8") for name in SHELL).lower()
    instructor = folder.academy.instructor
    teacher = f"{folder.academy.name} {instructor.name} {instructor.mail}".lower()
    return frozenset(word for word in said if word.lower() not in shell and word.lower() not in teacher)


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, dict):
        for inner in value.values():
            yield from _texts(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _texts(inner)
    else:
        yield str(value)


def _files(sealed: SealedSite) -> list[Path]:
    return [file for file in sorted(sealed.upload.rglob("*")) if file.is_file()]


def test_no_word_of_the_academy_is_in_any_byte(sealed: SealedSite) -> None:
    words = _private(sealed.academy)
    assert {"Lumsgate", "petra-lumsgate", "Chair behind you", "side-bend-impact"} <= words
    assert len(words) > 300
    for file in _files(sealed):
        data = f"{file.relative_to(sealed.upload)}\n".encode().lower() + file.read_bytes().lower()
        assert [word for word in words if word.lower().encode() in data] == [], file


def test_the_words_are_there_for_those_who_may_read(sealed: SealedSite) -> None:
    """That the scan looks for what is in fact published."""
    opened = sealed.opened(MIRO)
    folders = ["", *(sheet.stem for sheet in (sealed.academy / "students" / MIRO / "lessons").glob("*.yaml"))]
    text = b"".join(data for folder in folders for data in opened.files(folder).values()).lower()
    found = [word for word in _private(sealed.academy) if word.lower().encode() in text]
    assert len(found) > 20


def test_no_picture_of_the_academy_is_in_any_byte(sealed: SealedSite) -> None:
    lessons = [sheet.stem for sheet in (sealed.academy / "students" / MIRO / "lessons").glob("*.yaml")]
    files = {name: data for lesson in lessons for name, data in sealed.opened(MIRO).files(lesson).items()}
    pictures = [data for name, data in files.items() if name.endswith((".png", ".jpg", ".pdf"))]
    pictures += [file.read_bytes() for file in sealed.academy.rglob("*.png")]
    assert len(pictures) > 50
    within = [picture[100:164] for picture in pictures]
    as_text = [b64encode(picture[start : start + 48]) for picture in pictures for start in (99, 100, 101)]
    for file in _files(sealed):
        data = file.read_bytes()
        assert not any(piece in data for piece in (*within, *as_text)), file
        assert not data.startswith((b"\x89PNG", b"\xff\xd8", b"%PDF", b"<svg"))


def test_files_have_no_telling_names(sealed: SealedSite) -> None:
    for file in _files(sealed):
        parts = file.relative_to(sealed.upload).parts
        if parts[0] != "assets" and parts not in (("index.html",), ("s", "index.html")):
            assert re.fullmatch(r"(library|s/[a-z2-7]{26})/(index|keys|[a-z2-7]{26})\.html", "/".join(parts)), file


def test_lengths_are_powers_of_two(sealed: SealedSite) -> None:
    for file in _files(sealed):
        if file.suffix == ".html" and file.name not in ("index.html", "keys.html"):
            found = re.search(r"<pre hidden>(.*)</pre>", file.read_text(encoding="utf-8"))
            assert found is not None
            assert (len(found[1]) * 6 // 8 - 12 - 16).bit_count() == 1, file


def test_the_shell_is_the_same_for_everybody(sealed: SealedSite) -> None:
    shells = {
        (sealed.upload / area / "index.html").read_text(encoding="utf-8").replace(area, "AREA")
        for area in map(sealed.area, (MIRO, PETRA))
    }
    assert len(shells) == 1


def test_the_shell_is_sound_html(sealed: SealedSite) -> None:
    for place in (sealed.area(PETRA), "library"):
        page = Page(sealed.upload / place / "index.html")
        assert "This page is sealed" in page.text
        assert [e.get("for") for e in page.all("label")] == ["passphrase"]


@pytest.mark.parametrize("member", [MIRO, PETRA, GUEST])
def test_every_published_page_has_a_strict_policy(sealed: SealedSite, member: str) -> None:
    for file in sealed.opened(member).folder.iterdir():
        page = Page(file)
        policies = [e.get("content") for e in page.all("meta") if e.get("http-equiv") == "Content-Security-Policy"]
        assert len(policies) == 1, file
        rules = dict(rule.strip().split(" ", 1) for rule in str(policies[0]).split(";"))
        assert rules["default-src"] == "'none'"
        assert "connect-src" not in rules
        scripts = ["".join(e.itertext()) for e in page.all("script") if e.get("type") != "application/json"]
        assert sorted(rules["script-src"].split()) == sorted(map(_hash, scripts)), file
        assert "unsafe" not in str(policies[0])
        assert "http" not in str(policies[0])
        assert [n for e in page.root.iter() for n in e.attrib if str(n).startswith("on")] == [], file
        assert [e for e in page.all("script") if e.get("src")] == [], file


def _hash(script: str) -> str:
    return f"'sha256-{b64encode(sha256(script.encode()).digest()).decode()}'"


def test_without_scripts_the_page_says_what_it_needs(sealed: SealedSite) -> None:
    page = Page(sealed.upload / sealed.area(PETRA) / "index.html")
    assert "needs JavaScript" in plain("".join(page.all("noscript")[0].itertext()))

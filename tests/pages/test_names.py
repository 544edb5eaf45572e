"""Signs in a name that end lines, turn the text around or steer a terminal: pages and mails stay what they are."""

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import replace
from html.parser import HTMLParser

import pytest

from reportgen.delivery.mail import Enclosed, recap_mail
from reportgen.delivery.recipients import Recipients, one_line
from reportgen.pages.student_site import student_site
from reportgen.pipeline import load, reports_of
from reportgen.records.told import ToldLesson
from reportgen.saying.readers import Reader
from reportgen.saying.telling import tell
from reportgen.sheets.academy_folder import AcademyFolder, SoundAcademy, sound
from tests.delivery.conftest import ACADEMY, Demo, demo
from tests.delivery.test_mail import HEADERS, read, text_of

__all__ = ["demo"]

PETRA = "petra-lumsgate"
SIGNS = {
    "next line": "\x85",
    "line separator": "\u2028",
    "paragraph separator": "\u2029",
    "right-to-left mark": "\u200f",
    "right-to-left override": "\u202e",
    "right-to-left isolate": "\u2067",
    "delete": "\x7f",
    "a control sequence": "\x9b31m",
    "zero width joiner": "\u200d",
    "a byte order mark": "\ufeff",
    "no character": "\ufffe",
    "markup": "<b>&amp;\"'",
    "a template": "{{ 7 * 7 }}{% raw %}",
    "Markdown": "*b* [x](javascript:alert(1)) `c`",
}


class _Tags(HTMLParser):
    def __init__(self, page: str) -> None:
        super().__init__()
        self.found: list[tuple[str, tuple[str, ...]]] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, tuple(name for name, _ in attrs)))


@pytest.fixture(scope="module")
def folder() -> AcademyFolder:
    return load(ACADEMY, PETRA)


def _named(folder: AcademyFolder, name: str) -> tuple[ToldLesson, SoundAcademy]:
    """Petra's lesson where she and the teacher have another name."""
    home = sound(folder)
    home = replace(home, academy=home.academy.model_copy(update={"name": name}))
    report = tell(reports_of(folder.students[PETRA], home)[-1], folder.library, Reader())
    person = report.person.model_copy(update={"name": name, "first_name": name})
    return report.model_copy(update={"person": person, "focus": name, "notes": None}), home


def _tags(folder: AcademyFolder, name: str) -> Mapping[str, list[tuple[str, tuple[str, ...]]]]:
    report, home = _named(folder, name)
    files = student_site([report], home, recaps=False)
    return {path: _Tags(data.decode()).found for path, data in files.items() if path.endswith(".html")}


@pytest.fixture(scope="module")
def plain(folder: AcademyFolder) -> Mapping[str, list[tuple[str, tuple[str, ...]]]]:
    return _tags(folder, "Mara Lind")


@pytest.mark.parametrize("sign", SIGNS.values(), ids=SIGNS)
def test_a_page_has_the_same_elements_whatever_the_name(
    folder: AcademyFolder, plain: Mapping[str, list[tuple[str, tuple[str, ...]]]], sign: str
) -> None:
    assert _tags(folder, f"Mara{sign}Lind") == plain


@pytest.mark.parametrize("sign", SIGNS.values(), ids=SIGNS)
def test_a_mail_has_the_same_headers_and_says_nothing_that_a_terminal_obeys(
    folder: AcademyFolder, demo: Demo, sign: str
) -> None:
    report, home = _named(folder, name := f"Mara{sign}Lind")
    mail = read(
        recap_mail(
            report,
            replace(demo.words, academy=home.academy),
            Recipients(one_line(name), ("a@example.org",)),
            Enclosed(b""),
        ).as_bytes()
    )
    assert sorted(mail.keys()) == HEADERS
    assert [to.addr_spec for to in mail["To"].addresses] == ["a@example.org"]
    for header in ("From", "To", "Subject"):
        assert not re.search(r"[\u200e\u200f\u202a-\u202e\u2066-\u2069]", str(mail[header]))
        assert len(str(mail[header]).splitlines()) == 1
    said = text_of(mail).replace("\r\n", "")
    assert [s for s in said if unicodedata.category(s) in ("Cc", "Zl", "Zp")] == []

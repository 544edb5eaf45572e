"""Whatever a person writes into whatever field: an address in a page, a mail or a recap is http, https or mailto, or
stays within the site; nothing is loaded that is not published, and nothing is a script."""

import email
import re
from collections.abc import Iterator, Sequence
from email import policy
from pathlib import Path
from urllib.parse import unquote, urljoin, urlsplit

import html5lib
import pikepdf
import pytest
from pydantic import BaseModel, TypeAdapter, ValidationError

from reportgen.pages.theme import environment
from reportgen.records.academy import Academy, Instructor, Student
from reportgen.sheets.academy_folder import Home
from tests.publishing.conftest import Small
from tests.publishing.small import reportgen

EVIL = [
    "javascript:alert(1)", "JaVaScRiPt:alert(1)", "java\tscript:alert(1)", "javascript&colon;alert(1)",
    "&#106;avascript:alert(1)", "&#x6A;avascript:alert(1)", " javascript:alert(1)", "%6Aavascript:alert(1)",
    "data:text/html,<script>alert(1)</script>", "DATA:text/html;base64,PHNjcmlwdD4=", "vbscript:msgbox(1)",
    "data:image/svg+xml,<svg onload='alert(1)'/>", "file:///etc/passwd", "//example.org/x", r"\\example.org\x",
    "/\\example.org/x", "blob:https://example.org/1", "view-source:https://example.org/",
    'https://example.org/" onmouseover="alert(1)', "mailto:a@example.org\" onmouseover=\"alert(1)",
]  # fmt: skip
FORMS = ["[x]({})", "[x](<{}>)", "<{}>", "![x]({})", '<a href="{}">x</a>', '<img src="{}" onerror="alert(1)">']
LINE = """'<img src=//example.org/x onerror=alert(1)> [x](javascript:alert(1)) " onmouseover="alert(1)'"""
"""For fields of one line, as YAML."""
LOADED = ("src", "srcset", "data", "poster", "background", "action", "formaction", "ping", "manifest")


def prose(moved_in: int, forms: Sequence[str] = FORMS) -> str:
    """Every evil address in those forms, as paragraphs; tabs are for fields of one line."""
    texts = [form.format(address.replace("\t", "&Tab;")) for form in forms for address in EVIL]
    return "".join(f"{' ' * moved_in}{text}\n\n" for text in texts)


ACADEMY = f"""
name: {LINE}
instructor: {{name: {LINE}, mail: ada@example.org}}
secret: long enough that nobody guesses it
notice: {LINE}
site: https://example.org/golf
"""
STUDENT = f"""
name: {LINE}
born: 1980-01-01
plays: right
mail: [mara@example.org]
targets: [{{metric: pelvis-open-impact, low: 30, high: 40, unit: deg, reason: {LINE}}}]
"""
LESSON = f"""
student: mara-l
date: 2026-03-05
club: 7-iron
focus: {LINE}
readings: [{{metric: pelvis-open-impact, value: 62, unit: deg, how: sensor}}]
drills: [{{drill: our-own, note: {LINE}}}]
notes: |
{prose(2)}"""
RULE = f"""
rules:
  - id: our-own
    level: note
    when: {{always: true}}
    instructor: {LINE}
    basis: instructor
    source: {LINE}
    student: |
      {" ".join(f"[x](<{address}>)" for address in EVIL).replace(chr(9), "&Tab;")}
"""
SECTIONS = ("Set-up", "Steps", "Feel", "Common mistakes", "Easier", "Harder")
DRILL = (
    f"""---
id: our-own
title: {LINE}
aim: {LINE}
serves: [{{metric: pelvis-open-impact, when: above}}]
loads: []
level: 1
equipment: []
dose: 3 x 8
feel: {LINE}
skip_if: {LINE}
source: {LINE}
video: https://example.org/a?b=c&d="e
---
""".replace('&d="e', "&d=e")
    + "".join(f"\n## {name}\n\n{prose(0, [form])}" for name, form in zip(SECTIONS, FORMS, strict=True))
)


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Small:
    """An academy with all that is evil in every field of text, published and mailed."""
    folder = tmp_path_factory.mktemp("evil")
    files = {
        "academy.yaml": ACADEMY, "students/mara-l/student.yaml": STUDENT, "safety/own.yaml": RULE,
        "students/mara-l/lessons/2026-03-05.yaml": LESSON, "drills/our-own.md": DRILL,
    }  # fmt: skip
    for name, text in files.items():
        (folder / "academy" / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / "academy" / name).write_text(text, encoding="utf-8")
    for command in ["publish", folder / "academy", "--to", folder / "site"], ["send", folder / "academy"]:
        done = reportgen(*command)
        assert done.exit_code == 0, done.output
    return Small(folder / "academy", folder / "site")


def faults(page: bytes | str, place: str, files: set[str]) -> Iterator[str]:
    """What leads elsewhere, loads or runs something in a page that stands at `place` of the site."""
    for element in html5lib.parse(page, namespaceHTMLElements=False).iter():
        for name, value in element.attrib.items() if isinstance(element.tag, str) else ():
            address = value.split()[0] if name == "srcset" else value
            loads = name in LOADED or (name == "href" and element.tag == "link")
            leads = name in ("href", "cite", "xlink:href") and not loads
            if (
                name.startswith("on")
                or (loads and not address.startswith("cid:") and inside(address, place) not in files)
                or (leads and not re.match(r"(https?://|mailto:)[\w.-]+", address) and inside(address, place) is None)
                or (name == "style" and "url(" in value)
            ):
                yield f"{place}: <{element.tag} {name}={value!r}>"


def inside(address: str, place: str) -> str | None:
    """The place of the site that an address leads to, as a browser reads it; None where it leads out."""
    plain = re.sub(r"[\t\r\n]", "", address.strip(" \x00\x01")).replace("\\", "/")
    whole = urlsplit(urljoin(f"https://site.invalid/{place}", plain))
    return unquote(whole.path[1:]) if (whole.scheme, whole.netloc) == ("https", "site.invalid") else None


def test_no_page_leads_or_loads_elsewhere(written: Small) -> None:
    files = {file.relative_to(written.site).as_posix() for file in written.site.rglob("*") if file.is_file()}
    pages = [name for name in files if name.endswith(".html") and not name.startswith("desk/guide")]
    assert len(pages) > 50
    assert [fault for name in pages for fault in faults((written.site / name).read_bytes(), name, files)] == []
    text = b"".join((written.site / name).read_bytes() for name in pages)
    assert b"onerror=alert(1)" in text  # it is there, as text
    assert b"example.org/a?b=c&amp;d=e" in text


def test_no_mail_leads_or_loads_elsewhere(written: Small) -> None:
    (file,) = written.academy.parent.rglob("*.eml")
    mail = email.message_from_bytes(file.read_bytes(), policy=policy.default)
    part = mail.get_body(("html",))
    assert part is not None
    assert list(faults(part.get_content(), "mail.html", set())) == []


def test_no_recap_and_no_card_leads_elsewhere(written: Small) -> None:
    pdfs = list(written.site.rglob("*.pdf"))
    assert len(pdfs) == 2
    for file in pdfs:
        with pikepdf.open(file) as pdf:
            for page in pdf.pages:
                for link in page.get("/Annots", []):
                    action = link.get("/A", {})
                    assert action.get("/S") in (None, "/URI")
                    assert re.match(r"https?://|mailto:|[^:]*$", str(action.get("/URI", "")))
            assert "/JavaScript" not in pdf.Root.get("/Names", {})
            assert "/OpenAction" not in pdf.Root


@pytest.mark.parametrize("address", [*EVIL, "http://example.org", "https://", "https://example.org?x", "https://a b/"])
def test_an_academys_own_address_is_https_alone(address: str) -> None:
    with pytest.raises(ValidationError):
        Academy(name="x", instructor=Instructor(name="x"), secret="long enough that nobody guesses it", site=address)


UNSEEN = [f"a{sign}da@example.org" for sign in "\x00\x07\x1b\x86\u200b\u202e\u2066\ufeff"]
"""Signs that a terminal acts upon, or that nobody sees."""


@pytest.mark.parametrize("address", [*EVIL, *UNSEEN])
@pytest.mark.parametrize("field", ["instructor", "mail", "guardian"])
def test_a_mail_address_is_one(field: str, address: str) -> None:
    plain = {"name": "x", "born": "1980-01-01", "plays": "right"}
    kind: type[BaseModel] = Instructor if field == "instructor" else Student
    value = {"instructor": {"name": "x", "mail": address}, "mail": {**plain, "mail": [address]},
             "guardian": {**plain, "guardian": {"name": "x", "mail": address}}}[field]  # fmt: skip
    with pytest.raises(ValidationError):
        TypeAdapter(kind).validate_python(value)


@pytest.mark.parametrize(("address", "link"), [
    ("ada@example.org", "mailto:ada@example.org"),
    ("ada+golf@example.org", "mailto:ada+golf@example.org"),
    ("ada@example.org?subject=x", "mailto:ada@example.org%3Fsubject%3Dx"),
    ("ada&body=x#y%0d@example.org", "mailto:ada%26body%3Dx%23y%250d@example.org"),
])  # fmt: skip
def test_a_mail_address_as_a_link_is_nothing_but_an_address(address: str, link: str, tmp_path: Path) -> None:
    academy = Academy(
        name="x", instructor=Instructor(name="x", mail=address), secret="long enough that nobody guesses it"
    )
    page = environment(Home(tmp_path, academy)).get_template("base.html").render(assets="")
    assert f'<a href="{link}">{address.replace("&", "&amp;")}</a>' in page

"""Editors on Windows write a byte order mark before a text: it is no part of it, in whatever a person writes."""

import shutil
from codecs import BOM_UTF8
from pathlib import Path

import pytest

from reportgen.delivery.server import server_from
from reportgen.sealing.passphrases import instructors_passphrase
from reportgen.sheets.academy_folder import load_academy
from tests.publishing.small import ROOT, contents, reportgen, say_in, small_academy
from tests.sheets.academies import LESSON, LESSON_FILE, make_academy

ANNIKA = "annika-drosselby"
OWN = (
    "metrics/side-bend-impact.yaml", "bands/side-bend-impact.yaml", "drills/free-lead-heel.md", "practice.yaml",
    *(f"safety/{file.name}" for file in sorted((ROOT / "content" / "safety").iterdir())), "languages/de.po",
)  # fmt: skip
"""Of the library what this academy has of its own; with sheets, a table of a sensor and a theme that is all that a
person writes."""
LOOK = ("home.html", "recap.css", "style.css", "library.js", "mail.txt")


@pytest.fixture
def academy(tmp_path: Path) -> Path:
    """An academy with files of its own of every kind."""
    made = say_in(small_academy(tmp_path / "academy", ANNIKA, lessons=4), "theme: look")
    sheet = made / "academy.yaml"
    lines = [line for line in sheet.read_text(encoding="utf-8").splitlines() if not line.startswith("language:")]
    sheet.write_text("\n".join([*lines, "language: de\n"]), encoding="utf-8")
    for name in OWN:
        (made / name).parent.mkdir(exist_ok=True)
        shutil.copy(ROOT / "content" / name, made / name)
    (made / "look").mkdir()
    for name in LOOK:
        shutil.copy(ROOT / "themes" / "letter" / name, made / "look" / name)
    return made


def marked(academy: Path) -> set[str]:
    """Write a byte order mark before every text of an academy; gives the endings of the files."""
    texts = [file for file in academy.rglob("*") if file.is_file() and file.suffix not in (".png", ".jpg")]
    for file in texts:
        file.write_bytes(BOM_UTF8 + file.read_bytes())
    return {file.suffix for file in texts}


def test_the_pages_are_the_same_with_it(academy: Path, tmp_path: Path) -> None:
    assert reportgen("publish", academy, "--to", tmp_path / "without").exit_code == 0
    assert marked(academy) == {".yaml", ".md", ".po", ".csv", ".html", ".css", ".js", ".txt"}
    assert reportgen("publish", academy, "--to", tmp_path / "with").exit_code == 0
    assert contents(tmp_path / "with" / "upload") == contents(tmp_path / "without" / "upload")


def test_what_is_wrong_after_it_is_told_where_an_editor_shows_it(tmp_path: Path) -> None:
    sheet = BOM_UTF8 + f"fokus: hips\n{LESSON}".encode()
    (problem,) = load_academy(make_academy(tmp_path, {LESSON_FILE: sheet})).problems
    assert str(problem) == f"{LESSON_FILE}:1:1: the key 'fokus' is not known here. Did you mean focus?"


def test_the_file_of_the_mail_server_may_begin_with_it(tmp_path: Path) -> None:
    file = tmp_path / "smtp.toml"
    file.write_bytes(BOM_UTF8 + b'host = "mail.example.org"\n')
    file.chmod(0o600)
    assert server_from({"REPORTGEN_SMTP_FILE": str(file)}).host == "mail.example.org"


def test_the_file_of_the_passphrase_may_begin_with_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "mine").write_bytes(BOM_UTF8 + b"seven herons at low tide\r\n")
    monkeypatch.delenv("REPORTGEN_PASSPHRASE", raising=False)
    monkeypatch.setenv("REPORTGEN_PASSPHRASE_FILE", str(tmp_path / "mine"))
    assert instructors_passphrase(None) == "seven herons at low tide"
